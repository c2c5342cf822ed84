"""Splits, unites, swarms, transfers and deaths: what goes along and what stays."""

from datetime import date

import pytest
from rules_season import HIVE, OTHER, THIRD, Season, name

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.progress import course_state
from fieldapp.words.speech import Speech

WEEKLY = {"least": 4, "target": 5, "most": 7}
FIVE = {"least": 5, "usual": 5, "most": 5}
PART = name(0xC1)
speak = Speech()


def split(season: Season, day: str, along: int | None = None, to: str = OTHER) -> str:
    """Split the hive's colony."""
    body = {"to_hive": to, "to_colony": PART}
    if along is not None:
        body["pieces_along"] = along
    return season.add("split", day, body, colony=HIVE)


def unite(season: Season, day: str) -> str:
    """Let the other hive's colony join this one."""
    body = {"from_hive": OTHER, "from_colony": OTHER}
    return season.add("unite", day, body, colony=HIVE)


def transfer(season: Season, day: str, combs: str) -> str:
    """Move the colony to the other hive's boxes."""
    return season.add("transfer", day, {"to_hive": OTHER, "combs": combs}, colony=HIVE)


def last_day(season: Season, hive: str) -> str | None:
    """Return the last closed day of a hive."""
    last = season.state(hive).closed[-1].last
    return None if last is None else date.fromordinal(last).isoformat()


def test_a_part_copies_course_rest_limit_and_closed_days() -> None:
    """2 of 5 in both, and the closed days from their own dates."""
    season = Season()
    at = "off, at applications"
    terms = season.terms(gap=WEEKLY, applications=FIVE, supers=at, period=10)
    season.apply(terms, "2026-06-01")
    season.apply(terms, "2026-06-06")
    split(season, "2026-06-08")
    for hive in (HIVE, OTHER):
        course = season.course(hive)
        assert (course.k, course.n, course.last) == (2, 5, date(2026, 6, 6).toordinal())
        assert last_day(season, hive) == "2026-06-16"
    assert date.fromordinal(season.state(OTHER).closed[0].first) == date(2026, 6, 1)
    season.apply(terms, "2026-06-11", hive=OTHER)
    assert (season.course(HIVE).k, season.course(OTHER).k) == (2, 3)


def test_unanswered_pieces_are_open_in_both() -> None:
    """Outs in one do not lower the other, and it is asked."""
    season = Season()
    terms = season.terms(form="pieces", supers="off")
    season.apply(terms, "2026-08-01", pieces=4)
    split(season, "2026-08-10")
    season.pieces("out", terms, "2026-09-12", 4)
    assert not season.exposure(HIVE).open
    assert season.exposure(OTHER).remaining == 4
    assert "split" in [question.what for question in season.state(OTHER).questions]


def test_none_along_ends_the_parts_exposure_on_the_day_of_the_split() -> None:
    """Then the period."""
    season = Season()
    terms = season.terms(form="pieces", supers="off", period=14)
    season.apply(terms, "2026-08-01", pieces=4)
    split(season, "2026-08-10", along=0)
    assert last_day(season, OTHER) == "2026-08-24"
    assert season.exposure(HIVE).remaining == 4


def test_pieces_along_are_shared_by_number() -> None:
    """Two of four went along: two outs here and two there end both."""
    season = Season()
    terms = season.terms(form="pieces", supers="off")
    season.apply(terms, "2026-08-01", pieces=4)
    there = split(season, "2026-08-10")
    season.add("answer_split", "2026-08-11", {"split": there, "pieces_along": 2}, hive=None)
    season.pieces("out", terms, "2026-09-12", 2)
    season.pieces("out", terms, "2026-09-13", 2, hive=OTHER)
    assert not season.exposure(HIVE).open
    assert not season.exposure(OTHER).open


def test_the_larger_k_goes_on_after_a_unite() -> None:
    """With its n and the later last date; the other is united after k of n."""
    season = Season()
    terms = season.terms(gap=WEEKLY, applications=FIVE)
    for day in ("2026-06-01", "2026-06-06", "2026-06-11"):
        season.apply(terms, day, hive=OTHER)
    season.apply(terms, "2026-06-12")
    unite(season, "2026-06-14")
    state = season.state()
    goes_on = next(course for course in state.courses if not course.ended)
    other = next(course for course in state.courses if course.ended)
    assert (goes_on.k, goes_on.last) == (3, date(2026, 6, 12).toordinal())
    assert (other.ended, other.k) == ("united", 1)


def test_a_complete_course_does_not_complete_one_below_its_number() -> None:
    """The lower goes on, and it is asked."""
    season = Season()
    terms = season.terms(gap=WEEKLY, applications={"least": 2, "usual": 2, "most": 2})
    for day in ("2026-06-01", "2026-06-06"):
        season.apply(terms, day, hive=OTHER)
    season.apply(terms, "2026-06-07")
    unite(season, "2026-06-08")
    goes_on = next(course for course in season.state().courses if not course.ended)
    assert goes_on.k == 1
    assert [question.what for question in season.state().questions] == ["unite"]


def test_pieces_add_up_after_a_unite() -> None:
    """4 strips, label 2: take 2 out; removal from the earlier first in."""
    season = Season()
    dose = [{"amount": 2, "unit": "piece", "of": "piece", "per": "colony"}]
    stay = [{"when": "any", "least": 42, "most": 56}]
    terms = season.terms(form="pieces", dose=dose, stay=stay, supers="off")
    season.apply(terms, "2026-08-05", pieces=2)
    season.apply(terms, "2026-08-01", pieces=2, hive=OTHER)
    unite(season, "2026-08-20")
    exposure = season.exposure()
    assert (exposure.remaining, exposure.first) == (4, date(2026, 8, 1).toordinal())
    items = hive_agenda(season.state(), date(2026, 8, 21))
    said = next(item.what for item in items if item.task == "take_out")
    assert speak(said).endswith("4 in, label 2: take 2 out")
    assert not season.exposure(OTHER).open


def test_closed_days_are_the_union_after_a_unite_and_end_in_the_other_boxes() -> None:
    """The other boxes' exposure ends on the day of the unite, then the period."""
    season = Season()
    terms = season.terms(form="pieces", supers="off", period=14)
    season.apply(terms, "2026-08-01", pieces=2, hive=OTHER)
    unite(season, "2026-08-20")
    assert last_day(season, OTHER) == "2026-09-03"
    assert last_day(season, HIVE) is None
    season.pieces("out", terms, "2026-09-12", 2)
    assert last_day(season, HIVE) == "2026-09-26"


def test_limits_take_the_larger_count_and_rest_the_later_end_after_a_unite() -> None:
    """Two this year there, one here: the next is the third."""
    season = Season()
    limit = {"number": 2, "counts": "courses", "per": "year"}
    terms = season.terms(limit=limit, rest={"days": 30})
    season.apply(terms, "2026-03-01", hive=OTHER)
    season.apply(terms, "2026-05-20", hive=OTHER)
    season.apply(terms, "2026-04-01")
    unite(season, "2026-06-01")
    season.apply(terms, "2026-06-10")
    flags = {flag.word: flag.n for c in [season.course()] for flag in (*c.flags, *c.doses[0].flags)}
    assert flags == {"over limit": 3, "too soon": 9}


def test_a_swarm_takes_courses_and_no_closed_days() -> None:
    """*left with the swarm* where pieces are in; the boxes stay closed."""
    season = Season()
    terms = season.terms(form="pieces", supers="off", period=14)
    season.apply(terms, "2026-05-01", pieces=2)
    body = {"new_colony": PART, "to_hive": OTHER}
    season.add("swarm", "2026-05-20", body, colony=HIVE)
    swarm, old = season.state(OTHER), season.state(HIVE)
    assert swarm.courses[0].ended == "left with the swarm"
    assert (swarm.closed, swarm.exposures) == ((), ())
    assert old.exposures[0].open
    assert course_state(old.courses[0], old, date(2026, 5, 21).toordinal()) == "pieces in"


def test_a_swarm_keeps_rest_and_limit() -> None:
    """A trickle five days after the swarm is too soon for it."""
    season = Season()
    terms = season.terms(rest={"days": 30})
    season.apply(terms, "2026-05-01")
    season.add("swarm", "2026-05-20", {"new_colony": PART, "to_hive": OTHER}, colony=HIVE)
    season.apply(terms, "2026-05-25", hive=OTHER)
    assert "too soon" in [flag.word for flag in season.course(OTHER).flags]


@pytest.mark.parametrize("combs", ["with combs", "not known"])
def test_moved_with_combs_hands_on_closed_days_and_pieces(combs: str) -> None:
    """As in a unite; not known is as with combs."""
    season = Season()
    terms = season.terms(form="pieces", supers="off", period=14)
    season.apply(terms, "2026-08-01", pieces=2)
    transfer(season, "2026-08-10", combs)
    assert season.exposure(OTHER).remaining == 2
    assert last_day(season, HIVE) == "2026-08-24"
    assert last_day(season, OTHER) is None


def test_moved_as_bees_only_leaves_closed_days_and_pieces_behind() -> None:
    """The boxes keep their strips, the colony its course."""
    season = Season()
    terms = season.terms(form="pieces", supers="off", rest={"days": 60})
    season.apply(terms, "2026-08-01", pieces=2)
    transfer(season, "2026-08-10", "bees only")
    assert season.exposure(HIVE).open
    assert season.state(OTHER).closed == ()
    season.apply(terms, "2026-09-01", hive=OTHER, pieces=2)
    assert "too soon" in [flag.word for flag in season.course(OTHER).flags]


def test_a_dead_colonys_pieces_stay_due() -> None:
    """And the agenda says to close the entrance and find the cause."""
    season = Season()
    stay = [{"when": "any", "least": 42, "most": 56}]
    season.apply(season.terms(form="pieces", stay=stay), "2026-08-01", pieces=2)
    season.add("death", "2026-08-20", {})
    tasks = {item.task: item.timing for item in hive_agenda(season.state(), date(2026, 10, 1))}
    assert tasks["remove"] == "late"
    assert "dead" in tasks


def test_placement_decides_the_colony_not_the_envelope() -> None:
    """What the writer believed changes nothing."""
    season = Season()
    season.add("colony", "2026-04-01", {"origin": "bought"}, colony=PART)
    terms = season.terms()
    treatment = {"treatment": season.treatment(terms), "terms": terms}
    season.add("application", "2026-06-01", treatment, colony=THIRD)
    assert season.course().colony == PART


def test_other_bees_in_the_boxes_begin_without_courses() -> None:
    """Closed days stay with the boxes, rest and limits went with the colony before."""
    season = Season()
    terms = season.terms(rest={"days": 60}, supers="off", period=30)
    season.apply(terms, "2026-05-01")
    season.add("death", "2026-05-10", {})
    season.add("colony", "2026-05-20", {"origin": "swarm"}, colony=PART)
    season.apply(terms, "2026-05-25")
    assert season.course().flags == ()
    assert len(season.state().closed) == 1


def test_a_colony_that_was_there_keeps_its_courses() -> None:
    """Naming the bees that were there moves none."""
    season = Season()
    terms = season.terms(gap=WEEKLY, applications=FIVE)
    season.apply(terms, "2026-06-01")
    season.add("colony", "2026-06-03", {"origin": "was there"}, colony=PART)
    season.apply(terms, "2026-06-06")
    assert (season.course().k, season.course().colony) == (2, PART)


def test_a_split_corrected_away_gives_nothing_along() -> None:
    """A voided split leaves the other hive as if it had never been."""
    season = Season()
    season.apply(season.terms(supers="off", period=10), "2026-06-01")
    root = split(season, "2026-06-05")
    assert season.state(OTHER).closed
    season.correct(root, void=True)
    assert not season.state(OTHER).closed
