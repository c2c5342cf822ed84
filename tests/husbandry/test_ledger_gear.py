"""Applicators, parts and filters: hours run, last days."""

from __future__ import annotations

from ledger_season import LedgerSeason, spoken


def applicator(season: LedgerSeason, day: str = "2025-06-01", **says: object) -> str:
    body = {"what": "applicator", "name": "the vaporiser", **says}
    return season.add("gear", day, body, hive=None)


def test_hours_are_those_stated_and_those_that_applications_ran():
    """Stated 1.5 h, then twice 900 s: 2 h."""
    season = LedgerSeason()
    terms = season.terms()
    gear = applicator(season, hours=1.5, change_after_hours=10)
    for day in ("2025-08-01", "2025-08-06"):
        season.apply(terms, day, gear=gear, seconds=900)
    (thing,) = season.books().gear
    assert spoken(thing.running) == "ran 2 h of 10 h"


def test_hours_that_nobody_stated_stay_not_known():
    """A second-hand applicator ran at least what was logged since."""
    season = LedgerSeason()
    terms = season.terms()
    season.apply(terms, "2025-08-01", gear=applicator(season), seconds=1800)
    (thing,) = season.books().gear
    assert (thing.hours, thing.ran) == (None, 0.5)
    assert "before that not known" in spoken(thing.running)


def test_a_new_part_counts_from_the_day_it_was_put_in():
    """A nozzle runs whenever its applicator does, from its own record on."""
    season = LedgerSeason()
    terms = season.terms()
    gear = applicator(season, hours=0)
    season.apply(terms, "2025-07-01", gear=gear, seconds=3600)
    season.add(
        "gear", "2025-07-02", {"what": "part", "name": "nozzle", "of": gear, "hours": 0}, hive=None
    )
    season.apply(terms, "2025-07-06", gear=gear, seconds=1800)
    whole, part = season.books().gear
    assert (whole.hours, part.hours) == (1.5, 0.5)


def test_seconds_without_gear_go_to_the_only_applicator():
    """Where there is one applicator there is no question which one ran."""
    season = LedgerSeason()
    terms = season.terms()
    applicator(season, hours=0)
    season.apply(terms, "2025-08-01", seconds=3600)
    assert season.books().gear[0].hours == 1


def test_seconds_without_gear_are_a_gap_where_there_are_two():
    """With two in use nobody guesses."""
    season = LedgerSeason()
    terms = season.terms()
    applicator(season, hours=0)
    applicator(season, hours=0)
    ran = season.apply(terms, "2025-08-01", seconds=3600)
    books = season.books()
    assert [thing.hours for thing in books.gear] == [0, 0]
    assert [(gap.what, gap.records) for gap in books.gaps] == [("hours", (ran,))]


def test_gear_thrown_away_is_no_longer_in_use():
    """A correction says it; the hours stay."""
    season = LedgerSeason()
    gear = applicator(season, hours=3)
    season.correct(
        gear, body={"what": "applicator", "name": "the vaporiser", "hours": 3, "ended": True}
    )
    (thing,) = season.books().gear
    assert (thing.in_use, thing.hours) == (False, 3)
