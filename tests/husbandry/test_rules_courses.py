"""Courses and due windows, by the worked examples of the rules and round their edges."""

from datetime import date

import pytest
from rules_season import HIVE, Season

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.progress import course_state, next_window, view
from fieldapp.husbandry.state import Course
from fieldapp.words.speech import Speech

FIVE = {"least": 5, "usual": 5, "most": 6}
FOUR_TO_SEVEN = {"least": 4, "target": 5, "most": 7}
speak = Speech()


def words(course: Course) -> list[str]:
    """Return the flag words of a course, those that only say what is not known left out."""
    flags = [*course.flags, *(flag for dose in course.doses for flag in dose.flags)]
    return [flag.word for flag in flags if not flag.word.endswith("not known")]


def test_the_example_three_of_five_late_by_one() -> None:
    """4 to 7 days, 5 planned: 1, 6 and 14 June are 3 of 5, late by 1."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    for day in ("2026-06-01", "2026-06-06", "2026-06-14"):
        season.apply(terms, day)
    course = season.course()
    assert (course.k, course.n) == (3, 5)
    late = next(flag for flag in course.doses[2].flags if flag.word == "late")
    assert late.n == 1


@pytest.mark.parametrize(
    ("day", "word"),
    [
        ("2026-06-04", "waiting"),
        ("2026-06-05", "due"),
        ("2026-06-08", "due"),
        ("2026-06-09", "late"),
        ("2026-06-15", "late"),
        ("2026-06-16", "broken off"),
    ],
)
def test_waiting_due_late_broken_off(day: str, word: str) -> None:
    """The window after an application on d is [d+4, d+7]; on d + 2·7 + 1 it is broken off."""
    season = Season()
    season.apply(season.terms(gap=FOUR_TO_SEVEN, applications=FIVE), "2026-06-01")
    state = season.state()
    assert course_state(state.courses[0], state, date.fromisoformat(day).toordinal()) == word


def test_the_window_names_first_target_and_last() -> None:
    """The next application is due from d+least to d+most, target d+target."""
    season = Season()
    season.apply(season.terms(gap=FOUR_TO_SEVEN, applications=FIVE), "2026-06-01")
    first = date(2026, 6, 1).toordinal()
    assert next_window(season.course()) == (first + 4, first + 5, first + 7)


def test_an_early_one_counts_and_moves_the_window() -> None:
    """Under the least gap it joins, flagged early, and the next window follows from it."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    season.apply(terms, "2026-06-01")
    season.apply(terms, "2026-06-03")
    course = season.course()
    assert (course.k, words(course)) == (2, ["early"])
    assert next_window(course)[0] == date(2026, 6, 7).toordinal()


def test_over_twice_the_most_the_old_is_broken_off_after_k_of_n() -> None:
    """15 days after the last of 2 of 5 a new course begins."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    for day in ("2026-06-01", "2026-06-06", "2026-06-21"):
        season.apply(terms, day)
    old, new = season.state().courses
    assert (old.k, old.ended, new.k) == (2, "broken off", 1)
    said = view(old, season.state(), date(2026, 7, 1)).words
    assert speak(said) == "broken off after 2 of 5"


def test_at_twice_the_most_it_still_joins() -> None:
    """14 days later is late by 7 and joins."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    season.apply(terms, "2026-06-01")
    season.apply(terms, "2026-06-15")
    assert season.course().doses[1].flags[0][:2] == ("late", 7)


def test_broken_off_asks_to_start_again_or_stop() -> None:
    """On the day after twice the most the agenda asks, and a stop answers it."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    season.apply(terms, "2026-06-01")
    tasks = [item.task for item in hive_agenda(season.state(), date(2026, 6, 16))]
    assert "restart" in tasks
    season.add("course_stop", "2026-06-16", {"treatment": season.treatment(terms)})
    tasks = [item.task for item in hive_agenda(season.state(), date(2026, 6, 17))]
    assert "restart" not in tasks
    assert season.course().ended == "stopped"


def test_a_part_dose_counts_for_the_gap_and_not_towards_completing() -> None:
    """First of a course: 0 of 5; the next is judged from it."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    season.apply(terms, "2026-06-01", part=True)
    assert (season.course().k, season.course().n) == (0, 5)
    season.apply(terms, "2026-06-03")
    assert words(season.course()) == ["part dose", "early"]
    assert season.course().k == 1


def test_six_of_six_extends_and_seven_is_over_label() -> None:
    """Inside the label's range a further one extends the course, beyond it is over label."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    for day in range(1, 31, 5):
        season.apply(terms, f"2026-06-{day:02}")
    assert (season.course().k, season.course().n) == (6, 6)
    season.apply(terms, "2026-07-01")
    assert words(season.course()) == ["over label"]


def test_a_part_dose_never_extends() -> None:
    """After 5 of 5 a part dose leaves it at 5 of 5."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    for day in range(1, 26, 5):
        season.apply(terms, f"2026-06-{day:02}")
    season.apply(terms, "2026-06-26", part=True)
    assert (season.course().k, season.course().n) == (5, 5)


def test_a_range_without_upper_end_is_not_known() -> None:
    """A further application past the planned number is *range not known*."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications={"least": 1, "usual": 1})
    season.apply(terms, "2026-06-01")
    season.apply(terms, "2026-06-06")
    assert "range not known" in [f.word for f in season.course().doses[1].flags]


def test_after_a_complete_course_a_later_one_begins_a_new() -> None:
    """Past twice the most a complete course stays complete."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications={"least": 2, "usual": 2, "most": 2})
    for day in ("2026-06-01", "2026-06-06", "2026-07-01"):
        season.apply(terms, day)
    old, new = season.state().courses
    assert (old.ended, old.k, new.k) == ("", 2, 1)
    state = season.state()
    assert course_state(old, state, date(2026, 7, 2).toordinal()) == "complete"


def test_the_own_plan_is_over_label_from_the_second() -> None:
    """Several vapours at 4 to 7 days as common practice, where the label has one."""
    season = Season()
    terms = season.terms(applications={"least": 1, "usual": 1, "most": 1})
    plan = season.plan(terms, 5, least=4, most=7)
    for day in ("2026-06-01", "2026-06-06", "2026-06-11"):
        season.apply(terms, day, plan=plan)
    course = season.course()
    assert (course.k, course.n) == (3, 5)
    assert words(course) == ["other days", "over label", "over label"]


def test_a_plan_from_a_label_in_hand_is_the_label() -> None:
    """With the label in hand nothing of it is over label up to its own number.

    That its days differ from the library's is shown.
    """
    season = Season()
    terms = season.terms(applications={"least": 1, "usual": 1, "most": 1})
    plan = season.plan(terms, 3, ground="label in hand", least=4, most=7)
    for day in ("2026-06-01", "2026-06-06", "2026-06-11", "2026-06-16"):
        season.apply(terms, day, plan=plan)
    assert words(season.course()) == ["other days", "over label"]


def test_without_days_between_each_is_a_course_of_its_own() -> None:
    """A trickle on two days makes two courses, each 1 of 1."""
    season = Season()
    terms = season.terms(applications={"least": 1, "usual": 1, "most": 1})
    season.apply(terms, "2026-12-01")
    season.apply(terms, "2026-12-02")
    assert [(course.k, course.n) for course in season.state().courses] == [(1, 1), (1, 1)]


def test_without_a_most_it_joins_whatever_the_gap_until_answered() -> None:
    """The keeper is asked; *a new one* makes two courses of it."""
    season = Season()
    terms = season.terms(gap={"least": 4}, applications=FIVE)
    season.apply(terms, "2026-06-01")
    second = season.apply(terms, "2026-09-01")
    assert [course.k for course in season.state().courses] == [2]
    assert [q.what for q in season.state().questions] == ["joins"]
    season.add("answer_joins", "2026-09-02", {"application": second}, hive=None)
    assert [course.k for course in season.state().courses] == [1, 1]
    assert season.state().questions == ()


def test_without_a_most_an_early_one_is_early_and_any_other_not_known() -> None:
    """Under the least it is early; else its timing is not known."""
    season = Season()
    terms = season.terms(gap={"least": 4}, applications=FIVE)
    for day in ("2026-06-01", "2026-06-03", "2026-06-20"):
        season.apply(terms, day)
    flags = [[f.word for f in dose.flags] for dose in season.course().doses]
    assert flags[1][0] == "early"
    assert flags[2][0] == "timing not known"


@pytest.mark.parametrize(
    ("rest", "day", "flagged"),
    [
        ({"days": 30}, "2026-06-30", True),
        ({"days": 30}, "2026-07-01", False),
        ({"months": 1}, "2026-06-30", True),
        ({"months": 1}, "2026-07-01", False),
    ],
)
def test_rest_counts_from_the_end(rest: dict[str, int], day: str, flagged: bool) -> None:
    """A start on end + rest is not too soon, the day before is."""
    season = Season()
    terms = season.terms(rest=rest)
    season.apply(terms, "2026-06-01")
    season.apply(terms, day)
    assert ("too soon" in words(season.course())) is flagged


def test_rest_in_months_is_clamped_to_the_last_day() -> None:
    """One month after 31 January 2028 is 29 February."""
    season = Season()
    terms = season.terms(rest={"months": 1})
    season.apply(terms, "2028-01-31")
    season.apply(terms, "2028-02-28")
    assert words(season.course()) == ["too soon"]
    season.correct(season.records[-1].id, day="2028-02-29")
    assert words(season.course()) == []


def test_earlier_pieces_still_in_are_too_soon() -> None:
    """Strips again while strips are in: too soon, whatever the rest."""
    season = Season()
    terms = season.terms(form="pieces", rest={"days": 0}, stay=[{"when": "any", "least": 42}])
    season.apply(terms, "2026-08-01", pieces=2)
    season.apply(terms, "2026-09-20", pieces=2)
    assert words(season.course()) == ["too soon"]


def test_rest_of_pieces_counts_from_the_last_out() -> None:
    """Ten days from the last piece out, not from the application."""
    season = Season()
    terms = season.terms(form="pieces", rest={"days": 10})
    season.apply(terms, "2026-08-01", pieces=2)
    season.pieces("out", terms, "2026-09-12", 2)
    season.apply(terms, "2026-09-21", pieces=2)
    assert words(season.course()) == ["too soon"]


def test_missing_rest_and_limit_are_not_known() -> None:
    """Neither is ever taken for none."""
    season = Season()
    terms = season.terms()
    season.apply(terms, "2026-06-01")
    season.apply(terms, "2026-09-01")
    course = season.course()
    assert [f.word for f in course.flags] == ["rest not known"]
    assert [f.word for f in course.doses[0].flags] == ["limit not known"]


def test_a_limit_of_courses_counts_the_year_of_the_first_application() -> None:
    """A course from December into January is one of December's year."""
    season = Season()
    terms = season.terms(
        gap=FOUR_TO_SEVEN,
        applications={"least": 2, "usual": 2, "most": 2},
        limit={"number": 1, "counts": "courses", "per": "year"},
    )
    for day in ("2025-12-28", "2026-01-02", "2026-06-01"):
        season.apply(terms, day)
    assert "over limit" not in words(season.course())
    season.apply(terms, "2026-09-01")
    flag = season.course().doses[0].flags[0]
    assert (flag.word, flag.n, flag.limit) == ("over limit", 2, 1)


def test_a_limit_of_applications_counts_part_doses_too() -> None:
    """The third of a year is over a limit of two."""
    season = Season()
    terms = season.terms(
        gap=FOUR_TO_SEVEN,
        applications=FIVE,
        limit={"number": 2, "counts": "applications", "per": "year"},
    )
    season.apply(terms, "2026-06-01", part=True)
    season.apply(terms, "2026-06-06")
    season.apply(terms, "2026-06-11")
    assert words(season.course()) == ["part dose", "over limit"]


def test_a_stopped_course_takes_no_further_application() -> None:
    """After a stop the next application begins a new course."""
    season = Season()
    terms = season.terms(gap=FOUR_TO_SEVEN, applications=FIVE)
    season.apply(terms, "2026-06-01")
    season.add("course_stop", "2026-06-02", {"treatment": season.treatment(terms)})
    season.apply(terms, "2026-06-06")
    assert [course.k for course in season.state().courses] == [1, 1]


def test_two_treatments_on_one_hive_do_not_mix() -> None:
    """Each treatment has its own course."""
    season = Season()
    first = season.terms("GB/1/1/acid/drip", gap=FOUR_TO_SEVEN, applications=FIVE)
    second = season.terms("GB/2/1/oil/pad", gap=FOUR_TO_SEVEN, applications=FIVE)
    season.apply(first, "2026-06-01")
    season.apply(second, "2026-06-03")
    season.apply(first, "2026-06-06")
    assert sorted(course.k for course in season.state().courses) == [1, 2]


def test_late_and_due_lines_carry_their_reason_and_source() -> None:
    """The agenda says since when, which days between, and whose label."""
    season = Season()
    season.apply(season.terms(gap=FOUR_TO_SEVEN, applications=FIVE), "2026-06-01")
    items = hive_agenda(season.state(HIVE), date(2026, 6, 9))
    item = next(item for item in items if item.task == "apply")
    assert (item.timing, item.last) == ("late", date(2026, 6, 8))
    assert speak(item.reasons[0].phrase) == "last given on 1 Jun 2026, 4 to 7 days between"
    assert item.reasons[0].source.startswith("A label, An issuer, 2024")
