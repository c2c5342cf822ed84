"""What labels say of days, played through the rules: windows, rest, limits and honey.

Each label is the library's; beside each stands the text that gives its figures, with its row in
docs/sources.md. Where the library's period is no ground, the line of the label in hand is
entered first, as a keeper has to.
"""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import pytest
from rules_season import HIVE, Season

from fieldapp.assets import folder
from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.library import load
from fieldapp.husbandry.progress import course_state, next_window, window_of

LIBRARY = load(folder("treatments"))

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
AMITRAZ_AT = "AT/leaflet/undated/amitraz/strips"
AMITRAZ_US = "US/emergency-exemption-South-Dakota/2012/amitraz/strips"
TAU = "GB/AN-00674-2014/2014/tau-fluvalinate/strips"
COUMAPHOS = "CA/registrant-s-directions/undated/coumaphos/strips"
FLUMETHRIN = "GB/AN-01933-2010/2010/flumethrin/strips-between-combs"
FORMIC = "GB/Vm-40476-4000/undated/formic-acid/strips"
FORMIC_DE = "DE/SPC-vetisearch-5293/undated/formic-acid/strips"
FORMIC_60 = "DE/standard-authorisation-60/2018-12/formic-acid/evaporator"
FORMIC_US_BOTH = "US/label-not-read/unread/formic-acid/two-strips-at-once"
FORMIC_US_TURN = "US/label-not-read/unread/formic-acid/one-strip-after-the-other"
FORMIC_85 = "AT/leaflet-85/undated/formic-acid/evaporator"
SPONGE = "GB/AN-01911-2010/2010/thymol/sponge"
GEL = "GB/AN-01316-2014/2015-02/thymol/gel"
BLEND = "GB/AN-01017-2013/2013/thymol/blend-tablet"
BLEND_US = "US/label-not-read/unread/thymol/blend-tablet"
LACTIC = "DE/SPC-vetisearch-64015/undated/lactic-acid/spray"
OXALIC_STRIPS = "US/label-not-read/2023-25/oxalic-acid/glycerol-strips"
TRICKLE = "DE/standard-authorisation-3-5/2006/oxalic-acid/trickle"


class Played(NamedTuple):
    """A season with the terms of one label."""

    season: Season
    terms: str

    def flags(self) -> list[tuple[str, int]]:
        """Return the flags of the last course, those that only say what is not known left out."""
        course = self.season.course()
        found = [*course.flags, *(flag for dose in course.doses for flag in dose.flags)]
        return [(f.word, f.n) for f in found if not f.word.endswith("not known")]

    def out(self, day: str) -> tuple[date | None, date | None]:
        """Return from when to when the pieces come out, as seen on a day."""
        state = self.season.state()
        window = window_of(state.exposures[-1], state, date.fromisoformat(day).toordinal())
        assert window is not None
        return (_date(window.least), _date(window.most))

    def next(self) -> list[date | None]:
        """Return the first and the last day for the next application."""
        window = next_window(self.season.course())
        assert window is not None
        return [_date(window.first), _date(window.last)]

    def honey_from(self, day: str) -> date | None:
        """Return from when honey may be taken, as seen on a day."""
        return honey(self.season.state(), date.fromisoformat(day)).honey_from


def _date(day: int | None) -> date | None:
    return None if day is None else date.fromordinal(day)


def label(identity: str, in_hand: int | None = None) -> Played:
    """Return a season in which a label is used; `in_hand`: days of the line that was entered."""
    treatment = LIBRARY.get(identity)
    assert treatment is not None
    season = Season()
    terms = season.add("terms", "2020-01-02", treatment.terms_body(), hive=None)
    season._treatments[terms] = identity
    if in_hand is not None:
        season.period(terms, in_hand, name="label", day="2025-07-01")
    return Played(season, terms)


@pytest.mark.parametrize(
    ("identity", "first", "last"),
    [
        pytest.param(AMITRAZ_AT, "2025-09-12", "2025-10-10", id="6 to 10 weeks: AT leaflet, C6.2b"),
        pytest.param(AMITRAZ_US, "2025-09-12", "2025-09-26", id="42, 56 d: exemption 2012, C6.3b"),
        pytest.param(
            TAU, "2025-09-12", "2025-09-26", id="6 to 8 weeks: AN 00674/2014 s.4.9, C6.4b"
        ),
        pytest.param(COUMAPHOS, "2025-09-12", "2025-09-15", id="42 to 45 d: registrant, C6.7b"),
        pytest.param(FLUMETHRIN, None, "2025-09-12", id="6 weeks at most: from memory, C6.6b"),
        pytest.param(OXALIC_STRIPS, "2025-09-12", "2025-09-26", id="42 to 56 d: memory, C3.5b"),
        pytest.param(FORMIC, "2025-08-08", "2025-08-08", id="7 d: leaflet Vm 40476/4000, C4.1b"),
        pytest.param(FORMIC_DE, "2025-08-08", "2025-08-08", id="7 d: DE SPC 5293, C4.1b"),
        pytest.param(FORMIC_US_BOTH, "2025-08-15", "2025-08-15", id="14 d: from memory, C4.7a"),
        pytest.param(FORMIC_60, "2025-08-05", "2025-08-15", id="4 to 14 d: leaflet 2018, C4.9d"),
        pytest.param(SPONGE, "2025-08-22", "2025-08-29", id="3 to 4 weeks: AN 01911/2010, C5.3d"),
        pytest.param(BLEND_US, "2025-08-08", "2025-08-13", id="7 to 12 d: supplier's page, C5.9c"),
    ],
)
def test_in_on_1_august_out_by_the_label(identity: str, first: str | None, last: str) -> None:
    """Pieces in on 1 August 2025."""
    played = label(identity)
    played.season.apply(played.terms, "2025-08-01", pieces=1)
    expected = (date.fromisoformat(first) if first else None, date.fromisoformat(last))
    assert played.out("2025-08-02") == expected


def test_amitraz_by_brood() -> None:
    """6 weeks with no or least brood, 10 with brood: UK label (SPC), AN 00561/2015, C6.1b."""
    for brood, day in (("none", date(2025, 9, 12)), ("yes", date(2025, 10, 10))):
        played = label(AMITRAZ)
        played.season.apply(played.terms, "2025-08-01", pieces=2)
        played.season.add("look", "2025-08-05", {"brood": brood})
        assert played.out("2025-08-06") == (day, day)


def test_amitraz_closes_honey_while_strips_are_in() -> None:
    """Withdrawal of none, no honey during the weeks: AN 00561/2015 and vetisearch 4731, C6.1c."""
    played = label(AMITRAZ)
    played.season.apply(played.terms, "2025-08-01", pieces=2)
    played.season.add("look", "2025-09-12", {"brood": "none"})
    played.season.pieces("out", played.terms, "2025-09-12", 2)
    assert played.honey_from("2025-09-12") == date(2025, 9, 13)
    assert played.honey_from("2025-09-13") == date(2025, 9, 13)


@pytest.mark.parametrize(
    ("identity", "out", "first"),
    [
        pytest.param(COUMAPHOS, "2025-09-13", "2025-09-28", id="14 d: registrant's page, C6.7d"),
        pytest.param(AMITRAZ_US, "2025-09-26", "2025-10-11", id="14 d: exemption 2012, C6.3d"),
    ],
)
def test_supers_are_not_back_until_14_days_after(identity: str, out: str, first: str) -> None:
    """The library's figure is only reported, so nothing opens before the label is in hand."""
    for in_hand, expected in ((None, None), (14, date.fromisoformat(first))):
        played = label(identity, in_hand)
        played.season.apply(played.terms, "2025-08-01", pieces=2)
        played.season.pieces("out", played.terms, out, 2)
        answer = honey(played.season.state(), date.fromisoformat(out))
        assert (answer.honey_from, answer.supers_from) == (expected, expected)


@pytest.mark.parametrize(
    ("identity", "most"),
    [
        pytest.param(COUMAPHOS, 2, id="registrant's page, C6.7e"),
        pytest.param(AMITRAZ_US, 2, id="exemption 2012, C6.3e"),
        pytest.param(FORMIC_60, 2, id="July and September: leaflet 12/2018, C4.9b"),
    ],
)
def test_at_most_so_many_a_year(identity: str, most: int) -> None:
    """The one after is over label, the first of the next year is not."""
    played = label(identity)
    for number, day in enumerate(("2025-02-01", "2025-05-01", "2025-09-01", "2026-02-01"), 1):
        played.season.apply(played.terms, day, pieces=1)
        played.season.pieces("out", played.terms, day[:8] + "20", 1)
        assert [f for f in played.flags() if f[0] == "over limit"] == (
            [("over limit", most + 1)] if number == 3 else []
        )


@pytest.mark.parametrize("identity", [FORMIC, FORMIC_DE])
def test_formic_strips_again_after_a_month(identity: str) -> None:
    """At least 1 month between: leaflet Vm 40476/4000 and DE SPC 5293, C4.1c."""
    for again, flags in (("2025-09-07", [("too soon", 1)]), ("2025-09-08", [])):
        played = label(identity)
        played.season.apply(played.terms, "2025-08-01", pieces=2)
        played.season.pieces("out", played.terms, "2025-08-08", 2)
        played.season.apply(played.terms, again, pieces=2)
        assert played.flags() == flags


def test_german_formic_strips_hold_honey_stored_meanwhile() -> None:
    """Supers with honey off before, what was stored is not for people: DE SPC 5293, C4.5."""
    played = label(FORMIC_DE, in_hand=0)
    played.season.add("super_on", "2025-06-01", {"mark": "S1"})
    played.season.apply(played.terms, "2025-08-01", pieces=2)
    played.season.pieces("out", played.terms, "2025-08-08", 2)
    assert played.honey_from("2025-08-08") == date(2025, 8, 9)
    assert played.season.state().supers[0].exposed


def test_60_percent_waits_for_the_next_season() -> None:
    """Only after the year's last harvest: German leaflet 12/2018, C4.9f and C4.9g."""
    played = label(FORMIC_60)
    played.season.apply(played.terms, "2025-08-01", pieces=1)
    played.season.pieces("out", played.terms, "2025-08-10", 1)
    assert played.honey_from("2026-03-01") is None
    played.season.add("super_on", "2026-04-20", {"mark": "S1"})
    assert played.honey_from("2026-03-01") == date(2026, 4, 20)


def test_85_percent_looks_for_the_queen_two_weeks_later() -> None:
    """Check the queen 2 weeks later: AT leaflet, C4.10b."""
    played = label(FORMIC_85)
    played.season.apply(played.terms, "2025-08-01", pieces=1)
    items = hive_agenda(played.season.state(HIVE), date(2025, 8, 10))
    (look,) = [item for item in items if item.task == "look_queen"]
    assert look.first == date(2025, 8, 15)


@pytest.mark.parametrize(
    ("identity", "first", "last", "number"),
    [
        pytest.param(
            SPONGE, "2025-08-22", "2025-08-29", 2, id="3 to 4 weeks: AN 01911/2010, C5.3c"
        ),
        pytest.param(GEL, "2025-08-15", "2025-08-15", 2, id="2 weeks: from memory, C5.2c"),
        pytest.param(BLEND, "2025-08-08", "2025-08-08", 4, id="7 d, 4 times: memory, C5.8"),
        pytest.param(BLEND_US, "2025-08-08", "2025-08-11", 3, id="7 to 10 d: supplier, C5.9"),
        pytest.param(FORMIC_US_TURN, "2025-08-11", "2025-08-11", 2, id="10 d: memory, C4.7"),
        pytest.param(LACTIC, "2025-08-04", "2025-08-04", 2, id="3 d, twice: DE SPC 64015, C7.5"),
    ],
)
def test_given_on_1_august_the_next(identity: str, first: str, last: str, number: int) -> None:
    """The days for the next application, and how many make the course."""
    played = label(identity)
    pieces = {} if identity == LACTIC else {"pieces": 1}
    played.season.apply(played.terms, "2025-08-01", **pieces)
    assert played.next() == [date.fromisoformat(first), date.fromisoformat(last)]
    assert played.season.course().n == number


def test_sponges_make_six_to_eight_weeks_in_all() -> None:
    """Second straight after the first, 6 to 8 weeks: vetisearch 3654, AN 01911/2010, C5.3."""
    for second, last_out, weeks in (
        ("2025-08-22", "2025-09-12", 6),
        ("2025-08-29", "2025-09-26", 8),
    ):
        played = label(SPONGE)
        season = played.season
        season.apply(played.terms, "2025-08-01", pieces=1)
        season.pieces("out", played.terms, second, 1, at="09:00:00")
        season.apply(played.terms, second, at="09:05:00", pieces=1)
        season.pieces("out", played.terms, last_out, 1)
        state = season.state()
        assert course_state(state.courses[-1], state, date(2025, 12, 1).toordinal()) == "complete"
        assert played.flags() == []
        assert (date.fromisoformat(last_out) - date(2025, 8, 1)).days == 7 * weeks


def test_us_blend_tablets_come_out_30_days_before_honey() -> None:
    """Three tablets, the last 12 days in, out 30 days before honey: a supplier's page, C5.9."""
    played = label(BLEND_US, in_hand=30)
    season = played.season
    for day, out in (
        ("2025-08-01", "2025-08-08"),
        ("2025-08-08", "2025-08-15"),
        ("2025-08-15", "2025-08-27"),
    ):
        season.apply(played.terms, day, at="10:00:00", pieces=1)
        season.pieces("out", played.terms, out, 1, at="09:00:00")
    assert played.flags() == []
    assert (season.course().k, season.course().n) == (3, 3)
    assert played.honey_from("2025-09-01") == date(2025, 9, 27)


def test_a_german_trickle_is_a_course_of_its_own() -> None:
    """Once: federal standard text of 26 October 2006, C1.5; no days for another."""
    played = label(TRICKLE)
    played.season.apply(played.terms, "2025-12-15")
    assert next_window(played.season.course()) is None
    assert (played.season.course().k, played.season.course().n) == (1, 1)
