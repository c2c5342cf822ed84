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


@pytest.mark.parametrize("opened", [HIVE, OTHER])
def test_each_part_waits_for_supers_of_its_own(opened: str) -> None:
    """A new season's super on one part opens no combs of the other, that join or are joined."""
    season = Season()
    wait = {"form": "next season's supers"}
    terms = season.terms(supers="off", period=wait, applications={"least": 1, "most": 1})
    for day in ("2026-06-01", "2026-08-01"):
        season.apply(terms, day)
    season.add("split", "2026-08-10", {"to_hive": OTHER, "to_colony": PART}, colony=HIVE)
    season.add("super_on", "2027-03-20", {}, hive=opened)
    assert season.state(opened).closed[-1].last == date(2027, 3, 19).toordinal()
    unite(season, "2027-04-20")
    assert season.state().closed[-1].last is None


def test_a_split_is_asked_about_until_somebody_says() -> None:
    """Also once the parts are one again: the answer can end what both still count as in."""
    season = Season()
    terms = season.terms(form="pieces", supers="off")
    season.apply(terms, "2026-08-01", pieces=4)
    parted = season.add("split", "2026-08-10", {"to_hive": OTHER, "to_colony": PART}, colony=HIVE)
    season.pieces("out", terms, "2026-09-12", 4)
    unite(season, "2026-09-20")
    assert season.exposure().open
    assert ("split", (parted,)) in [(q.what, q.records) for q in season.state().questions]
    season.add("answer_split", "2026-09-21", {"split": parted, "pieces_along": 0}, None)
    assert not season.exposure().open
    assert "split" not in [question.what for question in season.state().questions]
