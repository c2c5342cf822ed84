"""The register: registration, counts, movements, visits, and what a standstill blocks."""

from __future__ import annotations

from datetime import date

import pytest
from ledger_season import OTHER_APIARY, LedgerSeason, spoken
from rules_season import APIARY, HIVE, OTHER, name


def two_apiaries() -> LedgerSeason:
    season = LedgerSeason()
    body = {"name": "Quarry Top", "country": "GB", "registration": "GB 77"}
    season.add("apiary", "2020-01-01", body, hive=None, apiary=OTHER_APIARY)
    return season


def test_a_hive_record_with_another_apiary_is_a_movement():
    """Carried in April, back in May, sold in June."""
    season = two_apiaries()
    season.stand(HIVE, "2025-04-01", OTHER_APIARY)
    season.stand(HIVE, "2025-04-02", OTHER_APIARY, stand=4)
    season.stand(HIVE, "2025-05-01", APIARY)
    season.stand(HIVE, "2025-06-01", APIARY, ended="sold", to_whom="a neighbour")
    moved = [m for m in season.books().register.movements if m.hive == HIVE][1:]
    assert [(str(m.day), m.origin, m.to, m.ended) for m in moved] == [
        ("2025-04-01", APIARY, OTHER_APIARY, ""),
        ("2025-05-01", OTHER_APIARY, APIARY, ""),
        ("2025-06-01", APIARY, None, "sold"),
    ]


def test_premises_hold_registration_counts_and_visits():
    """What an inspector asks of an apiary stands together."""
    season = two_apiaries()
    season.add("colony_count", "2025-04-01", {"number": 7}, hive=None, apiary=OTHER_APIARY)
    season.visit("2025-05-01", apiary=OTHER_APIARY)
    place = season.books().register.of(OTHER_APIARY)
    assert place is not None
    assert (place.name, place.registration) == ("Quarry Top", "GB 77")
    assert [record.body["number"] for record in place.counts] == [7]
    assert [record.body["found"] for record in place.visits] == ["brood healthy"]


def test_a_standstill_blocks_from_the_day_it_is_set_until_it_is_lifted():
    """Set on 3 May, lifted on 20 May: the 19th is blocked, the 20th is not."""
    season = two_apiaries()
    season.visit("2025-05-03", "set")
    season.visit("2025-05-10")
    season.visit("2025-05-20", "lifted")
    register = season.books().register
    days = [date(2025, 5, day) for day in (2, 3, 19, 20)]
    assert [register.blocked(APIARY, day) is not None for day in days] == [False, True, True, False]
    assert register.blocked(OTHER_APIARY, date(2025, 5, 10)) is None


def test_what_is_blocked_says_why():
    """Reason, day, and the record that set it."""
    season = two_apiaries()
    visit = season.visit("2025-05-03", "set")
    blocked = season.books().register.blocked(APIARY, date(2025, 5, 4))
    assert blocked is not None
    assert blocked.reason.records == (visit,)
    assert spoken(blocked.reason.phrase) == (
        "Standstill set by bee inspector on 3 May 2025: nothing is moved, united or exchanged "
        "until it is lifted."
    )


def test_two_versions_of_a_visit_side_by_side_take_the_worse():
    """One phone corrects the visit to *lifted*, another leaves it set: it stays set."""
    season = two_apiaries()
    season.visit("2025-05-03", "set")
    lifting = season.visit("2025-05-20", "lifted")
    season.correct(lifting, body={"by": "bee inspector", "standstill": "lifted"})
    assert season.books().register.blocked(APIARY, date(2025, 5, 21)) is None
    season.correct(lifting, body={"by": "bee inspector", "found": "brood healthy"})
    assert season.books().register.blocked(APIARY, date(2025, 5, 21)) is not None


def test_a_standstill_that_one_of_two_versions_sets_stands():
    """One phone takes the standstill out of the visit, another leaves it in: it stays set."""
    season = two_apiaries()
    visit = season.visit("2025-05-03", "set")
    for body in ({"by": "bee inspector", "standstill": "set"}, {"by": "bee inspector"}):
        season.correct(visit, body=body)
    assert season.books().register.blocked(APIARY, date(2025, 5, 4)) is not None


def test_a_voided_visit_sets_nothing():
    """A slip of the finger is no standstill."""
    season = two_apiaries()
    season.correct(season.visit("2025-05-03", "set"), void=True)
    assert season.books().register.blocked(APIARY, date(2025, 5, 4)) is None


def test_apiaries_that_are_one_share_their_standstill():
    """Two phones named the apiary apart; joined, both names are blocked."""
    season = two_apiaries()
    season.visit("2025-05-03", "set")
    season.add(
        "same_as", "2025-05-04", {"what": "apiary", "ids": [APIARY, OTHER_APIARY]}, hive=None
    )
    register = season.books().register
    assert all(register.blocked(each, date(2025, 5, 5)) for each in (APIARY, OTHER_APIARY))


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("unite", {"from_hive": OTHER, "from_colony": OTHER}),
        ("split", {"to_hive": OTHER, "to_colony": name(0xB1)}),
        ("transfer", {"to_hive": OTHER, "combs": "with combs"}),
        ("super_carried", {"to_hive": OTHER}),
    ],
)
def test_what_is_done_during_a_standstill_is_a_named_gap(kind, body):
    """The records stay; the book says that they should not have been."""
    season = two_apiaries()
    season.visit("2025-05-03", "set")
    done = season.add(kind, "2025-05-04", body, colony=HIVE)
    season.visit("2025-05-20", "lifted")
    season.add(kind, "2025-05-21", body, colony=HIVE)
    assert [(gap.what, gap.records) for gap in season.books().gaps] == [("standstill", (done,))]


def test_a_hive_moved_into_a_standstill_is_a_named_gap():
    """Into the apiary counts as much as out of it."""
    season = two_apiaries()
    season.visit("2025-05-03", "set", apiary=OTHER_APIARY)
    moved = season.stand(HIVE, "2025-05-04", OTHER_APIARY)
    assert [(gap.what, gap.records) for gap in season.books().gaps] == [("standstill", (moved,))]


def test_before_the_visit_on_the_same_day_is_before_it():
    """A hive carried away in the morning was free; the inspector came at noon."""
    season = two_apiaries()
    season.add("hive", "2025-05-03", {"number": "1"}, hive=HIVE, apiary=OTHER_APIARY, at="09:00:00")
    season.visit("2025-05-03", "set", at="12:00:00")
    assert season.books().gaps == ()
