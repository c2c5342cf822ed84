"""The agenda says what matters now, once: honey that is open again, limits that nobody knows."""

from __future__ import annotations

from datetime import date, timedelta

from rules_season import HIVE, Season

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.answers import Item
from fieldapp.husbandry.progress import view
from fieldapp.husbandry.recent import recent
from fieldapp.husbandry.spoken import when
from fieldapp.words import Speech

speak = Speech()


def two_autumns() -> Season:
    """A hive closed to 10 October in two years running, its supers off before."""
    season = Season()
    terms = season.terms(form="pieces", period=14, supers="off")
    for year in (2025, 2026):
        season.add("super_on", f"{year}-05-01", {"mark": "A"})
        season.add("super_off", f"{year}-07-30", {"mark": "A"})
        season.apply(terms, f"{year}-08-01", pieces=2)
        season.pieces("out", terms, f"{year}-09-26", 2)
    return season


def open_again(season: Season, day: date) -> list[Item]:
    """Return what the agenda says of honey that is open again."""
    return [i for i in hive_agenda(season.state(), day) if i.task == "supers_back"]


def test_only_the_latest_end_is_said_and_only_for_seven_days() -> None:
    """Closed to 10 October in two years: said once, from the 11th to the 17th of the later."""
    season = two_autumns()
    days = [date(2026, 7, 1) + timedelta(days=number) for number in range(200)]
    said = {day: open_again(season, day) for day in days}
    shown = [day for day in days if said[day]]
    assert (shown[0], shown[-1]) == (date(2026, 10, 11), date(2026, 10, 17))
    assert [len(said[day]) for day in shown] == [1] * 7
    assert open_again(season, date(2025, 10, 12))[0].first == date(2025, 10, 11)


def test_honey_open_again_is_said_with_its_day_itself() -> None:
    """Not *no last day known*: nothing is to be done by any."""
    (item,) = open_again(two_autumns(), date(2026, 10, 14))
    assert speak(when(item, date(2026, 10, 14))) == "from 11 Oct 2026"


def test_a_hive_closed_again_is_not_said_to_be_open() -> None:
    """Closed from the 13th for something else: nothing is said from then on."""
    season = two_autumns()
    season.apply(season.terms("GB/2/1/other/drip", period=1, supers="off"), "2026-10-13")
    assert open_again(season, date(2026, 10, 12))
    assert not open_again(season, date(2026, 10, 13))
    assert not open_again(season, date(2026, 10, 14))


def test_what_is_kept_of_late_says_the_same_of_honey() -> None:
    """The short state from which a kept book makes the agenda leaves nothing out."""
    state = two_autumns().state()
    for number in range(40):
        day = date(2026, 9, 20) + timedelta(days=number)
        short = recent(state, date(2026, 9, 20).toordinal())
        assert hive_agenda(short, day) == hive_agenda(state, day)


def test_a_limit_that_is_not_known_is_said_once_a_course() -> None:
    """Three applications of one course: one remark, and one more for the next course."""
    season = Season()
    terms = season.terms(
        gap={"least": 4, "target": 5, "most": 7}, applications={"least": 3, "usual": 3, "most": 3}
    )
    for day in ("2026-06-01", "2026-06-06", "2026-06-11", "2026-09-01"):
        season.apply(terms, day)
    state = season.state(HIVE)
    for course in state.courses:
        reasons = [speak(r.phrase) for r in view(course, state, date(2026, 9, 1)).reasons]
        assert reasons.count("limit a year not known") == 1


def board_days(season: Season, days: range) -> dict[str, list[int]]:
    """Return on which days of June the agenda asks for the board in, and for it out."""
    asked: dict[str, list[int]] = {"board_in": [], "board_out": []}
    for number in days:
        for each in hive_agenda(season.state(), date(2026, 6, 1) + timedelta(days=number - 1)):
            if each.task in asked:
                asked[each.task].append(number)
    return asked


def test_the_board_is_asked_in_and_out_as_a_pair() -> None:
    """Given on 1 June: in from the 1st on as waiting, due 15 June; once in, out; then neither."""
    season = Season()
    season.apply(season.terms(period=0), "2026-06-01")
    assert board_days(season, range(1, 31)) == {"board_in": [], "board_out": []}
    season.add("board", "2026-05-20", {"did": "in"})
    season.add("board", "2026-05-23", {"did": "out"})
    assert board_days(season, range(1, 31))["board_in"] == [*range(1, 31)]
    season.add("board", "2026-06-16", {"did": "in"})
    assert board_days(season, range(17, 20)) == {"board_in": [], "board_out": [17, 18, 19]}
    season.add("board", "2026-06-19", {"did": "out"})
    assert board_days(season, range(20, 30)) == {"board_in": [], "board_out": []}
