"""The worked examples of courses and pieces, by their figures, hold in the oracle."""

from __future__ import annotations

from typing import Any

import pytest
from oracle_examples import (
    BY_BROOD,
    FAR,
    HIVE,
    ask,
    closed,
    course,
    d,
    pieces,
    strips,
    vapour,
)
from record_maker import RecordMaker


@pytest.fixture
def maker() -> RecordMaker:
    return RecordMaker()


class TestCourses:
    def test_late_by_one(self, maker: RecordMaker) -> None:
        """4 to 7 days, 5 planned: 1, 6 and 14 June are 3 of 5, late by 1."""
        given = vapour(maker)
        for day in ("2025-06-01", "2025-06-06", "2025-06-14"):
            maker.add("application", day, HIVE, **given)
        found = course(maker, "2025-06-14")
        assert (found.k, found.n, found.state) == (3, 5, "running")
        assert {"late by 1", "cover broken"} <= found.flags

    def test_early_joins_and_counts(self, maker: RecordMaker) -> None:
        given = vapour(maker)
        for day in ("2025-06-01", "2025-06-04"):
            maker.add("application", day, HIVE, **given)
        found = course(maker, "2025-06-05")
        assert found.k == 2
        assert "early" in found.flags
        assert ask(maker, "2025-06-05").due[HIVE][0].first == d("2025-06-08")

    def test_over_twice_most_breaks_off(self, maker: RecordMaker) -> None:
        given = vapour(maker)
        for day in ("2025-06-01", "2025-06-06", "2025-06-21"):
            maker.add("application", day, HIVE, **given)
        old, new = ask(maker, "2025-06-21").courses[HIVE]
        assert (old.k, old.n, old.state) == (2, 5, "broken off")
        assert (new.k, new.n, new.state) == (1, 5, "running")

    @pytest.mark.parametrize(
        ("day", "timing"),
        [
            ("2025-06-04", "waiting"),
            ("2025-06-05", "due"),
            ("2025-06-08", "due"),
            ("2025-06-09", "late"),
            ("2025-06-15", "late"),
            ("2025-06-16", "ask"),
        ],
    )
    def test_due_window(self, maker: RecordMaker, day: str, timing: str) -> None:
        """Waiting before, due inside, late after; on d + 2·most + 1: start again or stop."""
        maker.add("application", "2025-06-01", HIVE, **vapour(maker))
        (due,) = ask(maker, day).due[HIVE]
        assert (due.first, due.target, due.last) == (
            d("2025-06-05"),
            d("2025-06-06"),
            d("2025-06-08"),
        )
        assert due.timing == timing
        assert (course(maker, day).state == "broken off") == (timing == "ask")

    def test_part_dose_first_is_none_of_n(self, maker: RecordMaker) -> None:
        given = vapour(maker)
        maker.add("application", "2025-06-01", HIVE, part=True, **given)
        assert (course(maker).k, course(maker).n) == (0, 5)
        maker.add("application", "2025-06-06", HIVE, **given)
        assert course(maker).k == 1

    @pytest.mark.parametrize(("applications", "k", "n"), [(5, 5, 5), (6, 6, 6), (7, 7, 6)])
    def test_extension(self, maker: RecordMaker, applications: int, k: int, n: int) -> None:
        """Inside the range it extends (6 of 6), beyond it is over label."""
        given = vapour(maker)
        for number in range(applications):
            maker.add("application", f"2025-06-{1 + 4 * number:02d}", HIVE, **given)
        found = course(maker)
        assert (found.k, found.n, found.state) == (k, n, "complete")
        assert ("over label" in found.flags) == (applications > 6)

    def test_range_without_upper_end(self, maker: RecordMaker) -> None:
        given = vapour(maker, applications={"least": 1, "usual": 1})
        for day in ("2025-06-01", "2025-06-06"):
            maker.add("application", day, HIVE, **given)
        assert "range not known" in course(maker).flags

    def test_without_days_between_each_is_its_own(self, maker: RecordMaker) -> None:
        given: dict[str, Any] = {
            "treatment": "trickle",
            "terms": maker.terms("trickle", applications={"least": 1, "usual": 1, "most": 1}),
        }
        for day in ("2025-12-20", "2025-12-22"):
            maker.add("application", day, HIVE, **given)
        found = ask(maker, FAR).courses[HIVE]
        assert [(c.k, c.n, c.state) for c in found] == [(1, 1, "complete")] * 2

    def test_own_plan_is_over_label_from_the_second(self, maker: RecordMaker) -> None:
        """Common practice: several vapours on a label of one."""
        given = vapour(maker, applications={"least": 1, "usual": 1, "most": 1}, gap={})
        plan = maker.add(
            "plan",
            "2025-06-01",
            treatment="vapour",
            number=3,
            gap={"least": 4, "target": 5, "most": 7},
            ground="common practice",
        ).id
        maker.add("application", "2025-06-01", HIVE, plan=plan, **given)
        assert "over label" not in course(maker).flags
        maker.add("application", "2025-06-06", HIVE, plan=plan, **given)
        found = course(maker, "2025-06-07")
        assert (found.k, found.n) == (2, 3)
        assert {"over label", "differs from label"} <= found.flags

    def test_most_missing_is_asked(self, maker: RecordMaker) -> None:
        """Until answered it joins whatever the gap; then as the keeper says."""
        given = vapour(maker, gap={"least": 4})
        maker.add("application", "2025-06-01", HIVE, **given)
        second = maker.add("application", "2025-09-01", HIVE, **given)
        assert ("joins", second.id) in ask(maker, FAR).questions
        assert course(maker).k == 2
        assert "timing not known" in course(maker).flags
        assert closed(maker)[0][1] == "2025-06-01"
        maker.add("answer_joins", "2025-09-02", application=second.id)
        assert len(ask(maker, FAR).courses[HIVE]) == 2

    @pytest.mark.parametrize(
        ("start", "rest", "flag"),
        [
            ("2025-10-01", {"days": 30}, None),
            ("2025-09-30", {"days": 30}, "too soon"),
            ("2025-09-30", {}, "rest not known"),
        ],
    )
    def test_rest(self, maker: RecordMaker, start: str, rest: dict[str, int], flag: str) -> None:
        """A start on end + rest is not too soon, before it is; missing rest is not known."""
        given = strips(maker, rest=rest)
        first = maker.add("application", "2025-07-01", HIVE, pieces=2, **given)
        maker.add("pieces", "2025-09-01", HIVE, did="out", count=2, treatment="strips")
        maker.add("application", start, HIVE, pieces=2, **given)
        second = ask(maker, FAR).courses[HIVE][1]
        assert first.id not in second.ids
        assert second.flags & {"too soon", "rest not known"} == ({flag} if flag else set())

    def test_rest_in_months_is_clamped(self, maker: RecordMaker) -> None:
        given = strips(maker, rest={"months": 1}, stay=[{"when": "any", "least": 1}])
        maker.add("application", "2025-12-01", HIVE, pieces=1, **given)
        maker.add("pieces", "2026-01-31", HIVE, did="out", count=1, treatment="strips")
        maker.add("application", "2026-02-28", HIVE, pieces=1, **given)
        assert "too soon" not in ask(maker, FAR).courses[HIVE][1].flags

    def test_limit_of_courses_a_year(self, maker: RecordMaker) -> None:
        """A course counts in the calendar year of its first application."""
        given = strips(maker, limit={"number": 1, "counts": "courses", "per": "year"})
        for day in ("2024-12-31", "2025-01-01", "2025-06-01"):
            maker.add("application", day, HIVE, pieces=1, **given)
        flags = [c.flags for c in ask(maker, FAR).courses[HIVE]]
        assert ["over label" in f for f in flags] == [False, False, True]
        assert "2 of 1 a year" in flags[2]

    def test_queen(self, maker: RecordMaker) -> None:
        """Caged on d: treat from d + 25; released on r: new sealed brood about r + 9."""
        maker.add("queen", "2025-07-01", HIVE, did="caged")
        maker.add("queen", "2025-07-26", HIVE, did="released")
        assert ask(maker, FAR).queens[HIVE] == (
            ("treat from", d("2025-07-26")),
            ("sealed brood from", d("2025-08-04")),
        )


class TestPieces:
    @pytest.mark.parametrize(
        ("brood", "first", "timing"),
        [("none", "2025-09-12", "due"), ("yes", "2025-10-10", "waiting")],
    )
    def test_condition(self, maker: RecordMaker, brood: str, first: str, timing: str) -> None:
        """In on 1 Aug 2025; no brood, out 12 Sep; brood, out 10 Oct."""
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker, stay=BY_BROOD))
        maker.add("look", "2025-09-12", HIVE, brood=brood)
        found = pieces(maker, "2025-09-12")
        assert (found.remove_first, found.timing) == (d(first), timing)

    def test_condition_not_known(self, maker: RecordMaker) -> None:
        """Not known: look on 12 Sep; a look before that day no longer decides on it."""
        maker.add("look", "2025-07-25", HIVE, brood="none")
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker, stay=BY_BROOD))
        assert pieces(maker, "2025-09-11").condition == "no or hardly any brood"
        found = pieces(maker, "2025-09-12")
        assert (found.condition, found.look_on) == ("not known", d("2025-09-12"))
        assert pieces(maker, "2025-10-17").timing == "due"
        assert pieces(maker, "2025-10-18").timing == "late"

    def test_a_look_that_saw_no_brood_is_no_look(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker, stay=BY_BROOD))
        maker.add("look", "2025-09-12", HIVE, brood="not seen")
        assert pieces(maker, "2025-09-13").condition == "not known"

    @pytest.mark.parametrize(
        ("out", "look", "state"),
        [
            ("2025-09-11", None, "taken out early"),
            ("2025-09-12", None, "stay not known"),
            ("2025-09-12", "none", "complete"),
            ("2025-10-09", "yes", "taken out early"),
            ("2025-10-10", None, "complete"),
        ],
    )
    def test_completes_at_last_out(
        self, maker: RecordMaker, out: str, look: str | None, state: str
    ) -> None:
        """Out before least is taken out early; between the leasts with no look, not known."""
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker, stay=BY_BROOD))
        assert course(maker).state == "pieces in"
        if look:
            maker.add("look", out, HIVE, brood=look, clock="09:00:00")
        maker.add("pieces", out, HIVE, did="out", count=2, treatment="strips")
        assert course(maker).state == state

    @pytest.mark.parametrize(
        ("seen", "open_"),
        [("outside the hive", False), ("every box searched", False), ("not found", True)],
    )
    def test_lost(self, maker: RecordMaker, seen: str, open_: bool) -> None:
        """Lost ends it only if seen outside the hive or every box was searched."""
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-09-20", HIVE, did="out", count=1, treatment="strips")
        maker.add("pieces", "2025-09-20", HIVE, did="lost", count=1, treatment="strips", seen=seen)
        assert pieces(maker).open is open_
        assert ("not found" in pieces(maker).flags) is open_

    def test_found_opens_again(self, maker: RecordMaker) -> None:
        """A piece found where none should be opens its exposure again, whatever the count."""
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=2, treatment="strips")
        maker.add("pieces", "2026-03-01", HIVE, did="found", count=1, treatment="strips")
        assert pieces(maker).open
        assert closed(maker) == [("2025-08-01", None)]
        maker.add("pieces", "2026-03-01", HIVE, did="out", count=1, treatment="strips")
        assert closed(maker) == [("2025-08-01", "2026-03-15")]

    def test_more_out_than_in_then_in_counts_from_zero(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=3, treatment="strips")
        assert not pieces(maker).open
        assert "more out than in" in pieces(maker).flags
        maker.add("pieces", "2025-09-27", HIVE, did="replaced", count=1, treatment="strips")
        assert pieces(maker).present == 1

    def test_replaced_is_one_exposure(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-08-20", HIVE, did="replaced", count=2, treatment="strips")
        found = pieces(maker)
        assert (found.remove_first, found.present) == (d("2025-09-12"), 2)
