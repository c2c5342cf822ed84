"""A colony that was split and is one again: which of two copies of a course goes on."""

from datetime import date

import pytest
from rules_season import HIVE, OTHER, Season, name

from fieldapp.husbandry.progress import next_window

PART = name(0xC1)


def parted_course(season: Season, here: tuple[str, ...], there: tuple[str, ...]) -> tuple[str, str]:
    """Split a hive of two courses and let the first go on in both parts; return both courses.

    The days between are planned from 5 on without an end, so that the keeper says which it joins.
    """
    terms = season.terms(supers="off", applications={"least": 1, "usual": 1, "most": 1})
    plan = season.plan(terms, 4, least=5)
    first = season.apply(terms, "2026-06-01")
    second = season.apply(terms, "2026-06-20")
    season.add("split", "2026-06-25", {"to_hive": OTHER, "to_colony": PART}, colony=HIVE)
    for hive, days in ((HIVE, here), (OTHER, there)):
        for day in days:
            given = season.apply(terms, day, hive=hive, plan=plan)
            season.add("answer_joins", day, {"application": given, "course": first}, None)
    return first, second


def unite(season: Season, day: str) -> None:
    """Let the part join the hive again."""
    season.add("unite", day, {"from_hive": OTHER, "from_colony": PART}, colony=HIVE)


@pytest.mark.parametrize("gone_on_in", [HIVE, OTHER])
def test_an_older_course_that_one_part_went_on_with_goes_on(gone_on_in: str) -> None:
    """In the other part it had ended: what is still due and closed is that of the part's."""
    season = Season()
    days = ("2026-06-27",)
    first, second = parted_course(season, *((days, ()) if gone_on_in == HIVE else ((), days)))
    unite(season, "2026-06-28")
    courses = {course.id: course for course in season.state().courses}
    assert courses.keys() == {first, second}
    assert (courses[first].k, courses[first].n, courses[first].ended) == (2, 4, "")
    window = next_window(courses[first])
    assert window is not None
    assert window.first == date(2026, 7, 2).toordinal()
    assert season.state().closed[-1].last is None


@pytest.mark.parametrize("most_in", [HIVE, OTHER])
def test_an_older_course_that_both_parts_went_on_with_is_one_again(most_in: str) -> None:
    """The larger k goes on with the later last date, and closes what the other's days close."""
    season = Season()
    two, one = ("2026-06-26", "2026-06-27"), ("2026-06-28",)
    first, _ = parted_course(season, *((two, one) if most_in == HIVE else (one, two)))
    unite(season, "2026-06-29")
    course = next(course for course in season.state().courses if course.id == first)
    assert (course.k, course.n, course.ended) == (3, 4, "")
    assert course.last == date(2026, 6, 28).toordinal()
    given = {cause.record for cause in season.state().causes if cause.course.startswith(first)}
    assert len(given) == 4
