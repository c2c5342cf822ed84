"""Splits, unions, swarms, moves, and versions side by side, as the rules have them."""

from __future__ import annotations

from typing import Any

import pytest
from oracle_examples import (
    BEES,
    FAR,
    HIVE,
    OTHER,
    PART,
    THIRD,
    ask,
    closed,
    course,
    d,
    pieces,
    strips,
    vapour,
)
from plain_rules import answers
from record_maker import RecordMaker


@pytest.fixture
def maker() -> RecordMaker:
    return RecordMaker()


class TestPlaces:
    def split(self, maker: RecordMaker, **along: Any) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("split", "2025-08-10", HIVE, colony=BEES, to_hive=OTHER, to_colony=PART, **along)

    def test_split_unanswered_is_open_in_both(self, maker: RecordMaker) -> None:
        """Outs in one do not lower the other; closed days are copied from their own dates."""
        self.split(maker)
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=2, treatment="strips")
        assert pieces(maker, hive=OTHER).present == 2
        assert closed(maker, HIVE) == [("2025-08-01", "2025-10-10")]
        assert closed(maker, OTHER) == [("2025-08-01", None)]
        assert any(question[0] == "split" for question in ask(maker, FAR).questions)

    def test_split_with_none_along(self, maker: RecordMaker) -> None:
        """The part's exposure ends on the day of the split, then the period."""
        self.split(maker, pieces_along=0)
        assert closed(maker, OTHER) == [("2025-08-01", "2025-08-24")]
        assert closed(maker, HIVE) == [("2025-08-01", None)]
        (copied,) = ask(maker, FAR).courses[OTHER]
        assert (copied.colony, copied.k, copied.n) == (PART, 1, 1)

    def test_split_with_one_along(self, maker: RecordMaker) -> None:
        self.split(maker, pieces_along=1)
        assert pieces(maker, hive=HIVE).present == pieces(maker, hive=OTHER).present == 1

    def test_unite_larger_goes_on(self, maker: RecordMaker) -> None:
        """The larger k goes on with the later last date, the other is united after k of n."""
        given = vapour(maker)
        for day in ("2025-06-01", "2025-06-06"):
            maker.add("application", day, OTHER, **given)
        maker.add("application", "2025-06-07", HIVE, **given)
        maker.add("unite", "2025-06-08", HIVE, colony=HIVE, from_hive=OTHER, from_colony=OTHER)
        found = {c.state: c for c in ask(maker, "2025-06-09").courses[HIVE]}
        assert (found["running"].k, found["united"].k) == (2, 1)
        assert ask(maker, "2025-06-09").due[HIVE][0].last == d("2025-06-14")

    def test_unite_complete_does_not_complete_the_lower(self, maker: RecordMaker) -> None:
        given = vapour(maker, applications={"least": 2, "usual": 2, "most": 3})
        for day in ("2025-06-01", "2025-06-06"):
            maker.add("application", day, OTHER, **given)
        maker.add("application", "2025-06-07", HIVE, **given)
        unite = maker.add(
            "unite", "2025-06-08", HIVE, colony=HIVE, from_hive=OTHER, from_colony=OTHER
        )
        found = ask(maker, "2025-06-09")
        assert {c.state: c.k for c in found.courses[HIVE]} == {"united": 2, "running": 1}
        assert ("unite", unite.id, "vapour") in found.questions

    def test_unite_pieces_add_up(self, maker: RecordMaker) -> None:
        """Four strips, removal from the earlier first in; closed days are the union."""
        given = strips(maker)
        maker.add("application", "2025-08-01", OTHER, pieces=2, **given)
        maker.add("application", "2025-08-05", HIVE, pieces=2, **given)
        maker.add("unite", "2025-08-10", HIVE, colony=HIVE, from_hive=OTHER, from_colony=OTHER)
        found = pieces(maker, hive=HIVE)
        assert (found.present, found.remove_first) == (4, d("2025-09-12"))
        assert closed(maker, HIVE) == [("2025-08-01", None)]
        assert closed(maker, OTHER) == [("2025-08-01", "2025-08-24")]

    def test_unite_takes_the_larger_of_two_counts(self, maker: RecordMaker) -> None:
        given = strips(maker, limit={"number": 2, "counts": "courses", "per": "year"})
        for hive in (HIVE, OTHER):
            maker.add("application", "2025-03-01", hive, pieces=1, **given)
        maker.add("unite", "2025-05-10", HIVE, colony=HIVE, from_hive=OTHER, from_colony=OTHER)
        for day, over in (("2025-07-01", False), ("2025-08-01", True)):
            maker.add("application", day, HIVE, pieces=1, **given)
            latest = ask(maker, FAR).courses[HIVE][-1]
            assert ("over label" in latest.flags) is over

    def test_supers_on_the_part_are_judged_from_the_split(self, maker: RecordMaker) -> None:
        """A super off before the split is not exposed; one still on is."""
        maker.add("super_on", "2025-08-02", OTHER, mark="S1")
        maker.add("super_on", "2025-08-02", OTHER, mark="S2")
        maker.add("super_off", "2025-08-09", OTHER, mark="S1")
        self.split(maker)
        assert ask(maker, FAR).supers == {("S2", None): True}

    @pytest.mark.parametrize("combs", ["with combs", "not known", "bees only"])
    def test_transfer(self, maker: RecordMaker, combs: str) -> None:
        """With combs, or not known, closed days and pieces go along; bees only, none."""
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("transfer", "2025-08-10", HIVE, colony=HIVE, to_hive=OTHER, combs=combs)
        went = combs != "bees only"
        assert closed(maker, OTHER) == ([("2025-08-01", None)] if went else [])
        assert closed(maker, HIVE)[0][1] == ("2025-08-24" if went else None)
        assert len(ask(maker, FAR).courses[OTHER]) == 1

    def test_swarm(self, maker: RecordMaker) -> None:
        """A swarm takes courses along, no closed days, exposure or pieces."""
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("swarm", "2025-08-10", HIVE, colony=BEES, new_colony=PART, to_hive=OTHER)
        assert course(maker, hive=OTHER).state == "left with the swarm"
        assert course(maker, hive=HIVE).state == "pieces in"
        assert closed(maker, OTHER) == []
        assert ask(maker, FAR).exposures[OTHER] == ()

    def test_a_dead_colonys_pieces_stay_due(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("death", "2025-08-10", HIVE)
        assert pieces(maker).timing == "late"
        assert closed(maker) == [("2025-08-01", None)]


class TestVersions:
    def test_a_correction_moves_everything(self, maker: RecordMaker) -> None:
        first = maker.add("application", "2025-06-01", HIVE, **vapour(maker))
        maker.correct(first, day="2025-06-03")
        assert closed(maker) == [("2025-06-03", "2025-06-03")]
        maker.correct(first, heads=(maker.records[-1].id,), void=True)
        assert ask(maker, FAR).closed.get(HIVE, ()) == ()

    def test_two_side_by_side_take_the_worse(self, maker: RecordMaker) -> None:
        """Closed days are united over the open heads; due dates follow the head that holds."""
        first = maker.add("application", "2025-06-01", HIVE, **vapour(maker))
        one = maker.correct(first, day="2025-06-03")
        two = maker.correct(first, day="2025-06-09")
        assert closed(maker) == [("2025-06-03", "2025-06-09")]
        found = ask(maker, "2025-06-10")
        assert found.due[HIVE][0].last == d("2025-06-16")
        assert ("heads", first.id) in found.questions
        maker.correct(first, heads=(one.id, two.id), day="2025-06-03")
        assert closed(maker) == [("2025-06-03", "2025-06-03")]

    def test_removal_follows_the_head_that_holds(self, maker: RecordMaker) -> None:
        """Earliest first in for the exposure, but due dates follow the head that holds."""
        first = maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.correct(first, day="2025-08-03")
        maker.correct(first, day="2025-08-09")
        found = pieces(maker)
        assert (found.first_in, found.remove_first) == (d("2025-08-03"), d("2025-09-20"))

    def test_an_end_is_missing_if_any_version_lacks_one(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        out = maker.add("pieces", "2025-09-26", HIVE, did="out", count=2, treatment="strips")
        maker.correct(out, count=2, day="2025-09-27")
        maker.correct(out, count=1)
        assert closed(maker) == [("2025-08-01", None)]
        assert pieces(maker).out == 1

    def test_a_head_named_before_it_arrives_is_replaced(self, maker: RecordMaker) -> None:
        first = maker.add("application", "2025-06-01", HIVE, **vapour(maker))
        one = maker.correct(first, day="2025-06-03")
        maker.correct(first, heads=(one.id,), day="2025-06-05")
        assert answers(maker.records[::-1], d(FAR)) == ask(maker, FAR)
        assert closed(maker) == [("2025-06-05", "2025-06-05")]

    def test_a_head_with_a_higher_stamp_is_not_replaced(self, maker: RecordMaker) -> None:
        """A name whose (stamp, id) is not lower than its own is ignored."""
        first = maker.add("application", "2025-06-01", HIVE, **vapour(maker))
        later = maker.correct(first, day="2025-06-03", stamp="00000000000fffff")
        maker.correct(first, heads=(later.id,), day="2025-06-05")
        assert ("heads", first.id) in ask(maker, FAR).questions

    def test_order_within_a_date_is_by_the_instant(self, maker: RecordMaker) -> None:
        """23:30 in New York is later than 23:40 in London, on the same civil date."""
        early = "2025-08-01T23:40:00+01:00[Europe/London]"
        late = "2025-08-01T23:30:00-04:00[America/New_York]"
        maker.add("super_on", "2025-05-01", HIVE, mark="S1")
        maker.add("super_off", "", HIVE, mark="S1", at=early)
        maker.add("application", "", HIVE, pieces=1, at=late, **strips(maker))
        assert ask(maker, FAR).supers == {}

    def test_same_as(self, maker: RecordMaker) -> None:
        """Two ids of one hive are one; the smallest id stands; it can be voided."""
        given = vapour(maker)
        maker.add("application", "2025-06-01", OTHER, **given)
        maker.add("application", "2025-06-06", THIRD, **given)
        same = maker.add("same_as", "2025-06-07", what="hive", ids=[THIRD, OTHER])
        found = ask(maker, FAR).courses
        assert [c.k for c in found[OTHER]] == [2]
        assert THIRD not in found
        maker.correct(same, void=True)
        assert [c.k for c in ask(maker, FAR).courses[THIRD]] == [1]

    def test_the_same_application_twice(self, maker: RecordMaker) -> None:
        """Until answered one in every course, and as many as there are for pieces."""
        given = strips(maker)
        one = maker.add("application", "2025-08-01", HIVE, pieces=2, clock="09:00:00", **given)
        two = maker.add("application", "2025-08-01", HIVE, pieces=2, clock="10:00:00", **given)
        found = ask(maker, FAR)
        assert ("twice", *sorted([one.id, two.id])) in found.questions
        assert [c.ids for c in found.courses[HIVE]] == [(one.id,)]
        assert sum(e.present or 0 for e in found.exposures[HIVE]) == 4
        maker.add("answer_twice", "2025-08-02", parts=[[one.id]])
        assert ask(maker, FAR).questions == found.questions
        maker.add("answer_twice", "2025-08-02", parts=[[one.id, two.id]])
        assert sum(e.present or 0 for e in ask(maker, FAR).exposures[HIVE]) == 2
        maker.add("answer_twice", "2025-08-03", parts=[[one.id], [two.id]])
        assert len(ask(maker, FAR).courses[HIVE]) == 2

    def test_order_of_arrival_never_matters(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=2, treatment="strips")
        expected = ask(maker, FAR)
        assert answers([*maker.records[::-1], *maker.records], d(FAR)) == expected

    @pytest.mark.parametrize("at", ["2025-06-01T12:00:00Z", "2025-06-01T12:00:00+01:00"])
    def test_not_understood_takes_no_part(self, maker: RecordMaker, at: str) -> None:
        maker.add("application", "", HIVE, at=at, **vapour(maker))
        assert ask(maker, FAR).courses == {}
