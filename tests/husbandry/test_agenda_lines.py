"""The agenda of an apiary: one line a task and day, and no word of one hive said of another."""

from __future__ import annotations

from datetime import date

import pytest
from rules_season import APIARY, HIVE, OTHER, THIRD, Season, name

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.lines import grouped, monthly_count
from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.spoken import when, why
from fieldapp.words import Speech

speak = Speech()
STAY = [{"when": "any", "least": 42, "most": 56}]


def many(number: int) -> tuple[Season, list[str]]:
    """Return a season with so many hives in one apiary, and their ids."""
    season = Season()
    hives = [HIVE, OTHER, THIRD, *(name(0xB00 + n) for n in range(number - 3))][:number]
    for place, hive in enumerate(hives[3:], 4):
        season.add("hive", "2020-01-01", {"number": str(place)}, hive=hive, apiary=APIARY)
    return season, hives


def lines(season: Season, day: str, task: str) -> list[Line]:
    """Return the lines of a task over all hives."""
    operation = Operation()
    operation.take(season.records)
    asked = date.fromisoformat(day)
    states = [operation.state(hive) for hive in operation.hives]
    found = grouped(item for state in states for item in hive_agenda(state, asked))
    return [line for line in found if line.task == task]


def test_24_hives_treated_on_one_day_are_one_line() -> None:
    """Not 24 reminders: one line with every hive."""
    season, hives = many(24)
    terms = season.terms(gap={"least": 4, "most": 7}, applications={"least": 3, "most": 3})
    for hive in hives:
        season.apply(terms, "2026-06-01", hive)
    for task in ("apply", "look_after"):
        (line,) = lines(season, "2026-06-05", task)
        assert len(line.hives) == 24


def test_hives_with_other_numbers_given_are_one_walk_that_says_every_number() -> None:
    """2 of 5 here, 1 of 5 there, both due on the same days."""
    season, _ = many(3)
    terms = season.terms(
        gap={"least": 4, "most": 7}, applications={"least": 5, "usual": 5, "most": 5}
    )
    season.apply(terms, "2026-06-01", HIVE)
    for hive in (HIVE, OTHER, THIRD):
        season.apply(terms, "2026-06-06", hive)
    (line,) = lines(season, "2026-06-10", "apply")
    assert len(line.hives) == 3
    assert "2 of 5, 1 of 5 given" in speak(line.what)


def test_every_lot_to_hold_is_named() -> None:
    """Two lots drawn on one day: a line each, since a keeper holds the lot that is named."""
    season, _ = many(3)
    terms = season.terms(supers="off", period=14)
    for hive, lot in ((HIVE, "L1"), (OTHER, "L2"), (THIRD, "L2")):
        season.apply(terms, "2026-05-01", hive)
        season.add("harvest", "2026-05-10", {"lot": lot, "takes": [{"hive": hive}]}, None)
    found = lines(season, "2026-05-12", "hold")
    held = {speak(line.what)[:11]: line.hives for line in found}
    assert held == {"Hold lot L1": (HIVE,), "Hold lot L2": (OTHER, THIRD)}
    assert {speak(when(line, date(2026, 5, 12))) for line in found} == {"since 10 May 2026"}


def test_pieces_to_take_out_are_said_of_the_hives_that_have_them() -> None:
    """4 in and 3 in, where the label has 2: take 2 out here, 1 there."""
    season, hives = many(4)
    dose = [{"amount": 2, "unit": "piece", "of": "piece", "per": "hive"}]
    terms = season.terms(form="pieces", stay=STAY, dose=dose)
    for hive, pieces in zip(hives, (2, 2, 1, 2), strict=True):
        season.apply(terms, "2026-06-01", hive, pieces=pieces)
    for into, come in (hives[:2], hives[2:]):
        season.add("unite", "2026-06-05", {"from_hive": come, "from_colony": come}, into)
    said = {line.hives: speak(line.what) for line in lines(season, "2026-06-08", "take_out")}
    assert said[(HIVE,)].endswith("take 2 out")
    assert said[(THIRD,)].endswith("take 1 out")


def test_pieces_not_found_are_said_by_their_number() -> None:
    """One here, two there."""
    season, _ = many(3)
    terms = season.terms(form="pieces", stay=STAY)
    for hive, lost in ((HIVE, 1), (OTHER, 2)):
        season.apply(terms, "2026-06-01", hive, pieces=2)
        season.pieces("lost", terms, "2026-07-20", lost, hive)
    said = {line.hives: speak(line.what) for line in lines(season, "2026-07-21", "pieces")}
    assert ": 1 piece not" in said[(HIVE,)]
    assert ": 2 pieces not" in said[(OTHER,)]


@pytest.mark.parametrize(("hives", "wanted"), [(3, 3), (8, 8), (9, 8), (24, 8)])
def test_eight_hives_are_counted_a_month_all_where_there_are_fewer(hives: int, wanted: int) -> None:
    """Lee et al. 2010, J. Econ. Entomol. 103(4):1039-1050: 8 colonies, whatever the apiary."""
    season, ids = many(hives)
    for counted in range(wanted):
        line = monthly(season, ids, date(2026, 6, 20))
        assert line is not None
        assert line.what.number == wanted - counted
        assert ids[counted] in line.hives
        assert "Lee" in line.reasons[0].source
        season.add("count", "2026-06-10", {"way": "wash", "mites": 1}, ids[counted])
        left = monthly(season, ids, date(2026, 6, 20))
        assert left is None or ids[counted] not in left.hives
    assert monthly(season, ids, date(2026, 6, 30)) is None
    assert monthly(season, ids, date(2026, 7, 1)) is not None


@pytest.mark.parametrize(
    ("lat", "month", "asked"), [(52, 3, False), (52, 4, True), (52, 10, False), (-33, 10, True)]
)
def test_counts_are_asked_for_in_season(lat: float, month: int, asked: bool) -> None:
    """April to September, October to March south of the equator."""
    season = Season(lat=lat)
    assert (monthly(season, [HIVE], date(2026, month, 5)) is not None) is asked


def test_hives_without_bees_are_not_counted() -> None:
    """Three hives, one dead, one united with the third: one to count, and said as one."""
    season, ids = many(3)
    season.add("death", "2026-05-01", {}, HIVE)
    season.add("unite", "2026-05-01", {"from_hive": OTHER, "from_colony": OTHER}, THIRD)
    line = monthly(season, ids, date(2026, 6, 1))
    assert line is not None
    assert line.hives == (THIRD,)
    assert speak(line.what) == "Count mites: 1 more hive this month"


def test_every_line_says_why_and_whose_word_it_is() -> None:
    """A source with its standing, or the standing alone where no source gives it."""
    season, _ = many(3)
    season.apply(season.terms(gap={"least": 4, "most": 7}, applications={"usual": 3}), "2026-06-01")
    (line,) = lines(season, "2026-06-02", "apply")
    assert [speak(each) for each in why(line.reasons)] == [
        "last given on 1 Jun 2026, 4 to 7 days between (A label, An issuer, 2024, read)"
    ]
    (line,) = lines(season, "2026-06-02", "look_after")
    assert [speak(each) for each in why(line.reasons)] == ["given on 1 Jun 2026 (common practice)"]


def test_one_line_tells_every_source_that_it_rests_on() -> None:
    """Two hives, the days by the label and by a plan of the keeper's own that agree."""
    season, _ = many(3)
    gap = {"least": 4, "most": 7}
    terms = season.terms(gap=gap, applications={"least": 3, "usual": 3, "most": 3})
    plan = season.plan(terms, 3, **gap)
    season.apply(terms, "2026-06-01", HIVE)
    season.apply(terms, "2026-06-01", OTHER, plan=plan)
    (line,) = lines(season, "2026-06-06", "apply")
    assert line.hives == (HIVE, OTHER)
    assert {reason.standing for reason in line.reasons} == {"read", "common practice"}


def monthly(season: Season, hives: list[str], day: date) -> Line | None:
    """Return the line that asks for the month's counts."""
    operation = Operation()
    operation.take(season.records)
    found = monthly_count(APIARY, [operation.state(hive) for hive in hives], day)
    return found[0] if found else None
