"""The worked examples of closed days, supers and lots hold in the oracle."""

from __future__ import annotations

from typing import Any

import pytest
from oracle_examples import (
    FAR,
    HIVE,
    OTHER,
    ask,
    closed,
    d,
    strips,
    vapour,
)
from record_maker import RecordMaker, made_id

LABEL: dict[str, Any] = {
    "treatment": "mist",
    "given_by": {"who": "label in hand", "document": "line 4"},
}
VET: dict[str, Any] = {
    "treatment": "mist",
    "given_by": {"who": "veterinarian", "name": "a", "day": "2025-06-02", "document": "7"},
}


@pytest.fixture
def maker() -> RecordMaker:
    return RecordMaker()


class TestHoney:
    def test_period_after_last_out(self, maker: RecordMaker) -> None:
        """Strips in 1 Aug, all out 26 Sep, period 14: closed to 10 Oct, open from 11 Oct."""
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=2, treatment="strips")
        assert closed(maker) == [("2025-08-01", "2025-10-10")]
        found = ask(maker, "2025-09-30")
        assert found.honey_from[HIVE] == found.supers_from[HIVE] == d("2025-10-11")

    def test_no_end_while_a_piece_is_in(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=1, treatment="strips")
        assert closed(maker) == [("2025-08-01", None)]
        assert ask(maker, FAR).honey_from[HIVE] is None

    @pytest.mark.parametrize(
        ("supers", "expected"),
        [("off", [("2025-08-01", "2025-09-26")]), ("allowed", [])],
    )
    def test_period_of_zero(
        self, maker: RecordMaker, supers: str, expected: list[tuple[str, str | None]]
    ) -> None:
        """Zero with supers off: from first in to last out; with supers allowed: none."""
        given = strips(maker, 0, supers=supers)
        maker.add("application", "2025-08-01", HIVE, pieces=2, **given)
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=2, treatment="strips")
        assert closed(maker) == expected

    def test_days_between_are_closed_where_terms_say_so(self, maker: RecordMaker) -> None:
        """Below its number the days after the last application are closed to d + 2·most."""
        given = vapour(maker, supers="off, whole course")
        for day in ("2025-06-01", "2025-06-06"):
            maker.add("application", day, HIVE, **given)
        assert closed(maker) == [("2025-06-01", "2025-06-20")]
        maker.add("course_stop", "2025-06-10", HIVE, treatment="vapour")
        assert closed(maker) == [("2025-06-01", "2025-06-10")]

    @pytest.mark.parametrize(
        ("supers", "days"),
        [
            ("off, at applications", [("2025-06-01", "2025-06-01"), ("2025-06-06", "2025-06-06")]),
            ("off", [("2025-06-01", "2025-06-20")]),
        ],
    )
    def test_days_between_are_open_only_where_terms_say_so(
        self, maker: RecordMaker, supers: str, days: list[tuple[str, str]]
    ) -> None:
        given = vapour(maker, supers=supers)
        for day in ("2025-06-01", "2025-06-06"):
            maker.add("application", day, HIVE, **given)
        assert closed(maker) == days

    def test_not_said_counts_as_off_for_the_whole_course(self, maker: RecordMaker) -> None:
        given = vapour(maker)
        del given["terms"]
        terms = maker.terms(
            "vapour",
            applications={"usual": 2, "most": 2},
            gap={"least": 4, "most": 7},
            period={"form": "days", "days": 0},
        )
        for day in ("2025-06-01", "2025-06-06"):
            maker.add("application", day, HIVE, terms=terms, **given)
        assert closed(maker) == [("2025-06-01", "2025-06-06")]

    @pytest.mark.parametrize("standing", ["reported", "from memory", "common practice"])
    def test_weak_standing_is_unknown(self, maker: RecordMaker, standing: str) -> None:
        given = vapour(maker, period=({"form": "days", "days": 0}, standing))
        maker.add("application", "2025-06-01", HIVE, **given)
        assert closed(maker) == [("2025-06-01", None)]

    @pytest.mark.parametrize(
        ("given_by", "last"),
        [
            ({"who": "keeper"}, None),
            ({"who": "veterinarian", "name": "a vet"}, None),
            ({"who": "label in hand", "document": "line 4"}, "2025-06-08"),
            (
                {"who": "authority", "name": "an office", "day": "2025-06-02", "document": "7"},
                "2025-06-08",
            ),
        ],
    )
    def test_period_entered(
        self, maker: RecordMaker, given_by: dict[str, Any], last: str | None
    ) -> None:
        """The keeper's word alone leaves it unknown; an entry holds for earlier ones too."""
        given: dict[str, Any] = {"treatment": "mist", "terms": maker.terms("mist", published=False)}
        maker.add("application", "2025-06-01", HIVE, **given)
        period = {"form": "days", "days": 7}
        maker.add("period", "2025-07-01", treatment="mist", period=period, given_by=given_by)
        assert closed(maker) == [("2025-06-01", last)]

    def test_an_entry_for_one_hive(self, maker: RecordMaker) -> None:
        given: dict[str, Any] = {"treatment": "mist", "terms": maker.terms("mist")}
        for hive in (HIVE, OTHER):
            maker.add("application", "2025-06-01", hive, **given)
        maker.add("period", "2025-07-01", HIVE, period={"form": "days", "days": 7}, **LABEL)
        assert closed(maker) == [("2025-06-01", "2025-06-08")]
        assert closed(maker, OTHER) == [("2025-06-01", None)]

    def test_a_label_in_hand_replaces_the_librarys(self, maker: RecordMaker) -> None:
        """A veterinarian's word does not: the later end counts."""
        period = {"form": "days", "days": 3}
        given: dict[str, Any] = {"treatment": "mist"}
        given["terms"] = maker.terms("mist", period={**period, "days": 7})
        maker.add("application", "2025-06-01", HIVE, **given)
        maker.add("period", "2025-07-01", period=period, **VET)
        assert closed(maker) == [("2025-06-01", "2025-06-08")]
        maker.add("period", "2025-07-02", period=period, **LABEL)
        assert closed(maker) == [("2025-06-01", "2025-06-04")]

    def test_the_later_end_of_own_terms_and_the_courses(self, maker: RecordMaker) -> None:
        for days, day in ((10, "2025-06-01"), (2, "2025-06-06")):
            given = vapour(maker, period={"form": "days", "days": days})
            maker.add("application", day, HIVE, **given)
        assert closed(maker) == [("2025-06-01", "2025-06-16")]

    def test_until_next_seasons_supers(self, maker: RecordMaker) -> None:
        given = strips(maker, period={"form": "next season's supers"})
        maker.add("application", "2025-08-01", HIVE, pieces=1, **given)
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=1, treatment="strips")
        maker.add("super_on", "2025-10-20", HIVE, mark="S1")
        assert closed(maker) == [("2025-08-01", None)]
        maker.add("super_on", "2027-05-02", HIVE, mark="S2")
        found = ask(maker, FAR)
        assert closed(maker) == [("2025-08-01", "2027-05-01")]
        assert found.supers == {("S1", None): True}

    def test_season_south_of_the_equator(self, maker: RecordMaker) -> None:
        place = made_id(3_000_001)
        maker.add("apiary", "2025-01-01", apiary=place, name="South", lat=-33.0, lon=151.0)
        maker.add("hive", "2025-01-01", HIVE, apiary=place, number="1")
        given = strips(maker, period={"form": "next season's supers"})
        maker.add("application", "2025-03-01", HIVE, pieces=1, **given)
        maker.add("pieces", "2025-05-01", HIVE, did="out", count=1, treatment="strips")
        maker.add("super_on", "2025-07-01", HIVE, mark="S2")
        assert closed(maker) == [("2025-03-01", "2025-06-30")]


class TestSupers:
    def test_off_before_the_first_piece_on_the_same_day(self, maker: RecordMaker) -> None:
        maker.add("super_on", "2025-05-01", HIVE, mark="S1")
        maker.add("super_off", "2025-08-01", HIVE, mark="S1", clock="09:00:00")
        maker.add("application", "2025-08-01", HIVE, pieces=1, clock="10:00:00", **strips(maker))
        assert ask(maker, FAR).supers == {}

    def test_exposed_wherever_carried_until_emptied(self, maker: RecordMaker) -> None:
        maker.add("super_on", "2025-05-01", HIVE, mark="S1")
        maker.add("application", "2025-08-01", HIVE, pieces=1, **strips(maker))
        maker.add("super_carried", "2025-08-02", HIVE, mark="S1", to_hive=OTHER)
        assert ask(maker, FAR).supers == {("S1", None): True}
        maker.add("super_emptied", "2025-09-01", mark="S1", how="melted")
        assert ask(maker, FAR).supers == {}

    def test_put_on_during_closed_days(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=1, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=1, treatment="strips")
        maker.add("super_on", "2025-10-10", HIVE, mark="S1")
        maker.add("super_on", "2025-10-11", HIVE, mark="S2")
        assert ask(maker, FAR).supers == {("S1", None): True}

    def test_a_period_on_honey_alone_exposes_no_super(self, maker: RecordMaker) -> None:
        period = {"form": "days", "days": 14, "honey_only": True}
        maker.add("application", "2025-08-01", HIVE, pieces=1, **strips(maker, period=period))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=1, treatment="strips")
        maker.add("super_on", "2025-10-01", HIVE, mark="S1")
        assert ask(maker, FAR).supers == {}
        assert closed(maker) == [("2025-08-01", "2025-10-10")]

    def test_unmarked_are_one_lot(self, maker: RecordMaker) -> None:
        """One carried away is exposed; one it is added to becomes so."""
        maker.add("super_on", "2025-05-01", HIVE, count=2)
        maker.add("application", "2025-08-01", HIVE, pieces=1, **strips(maker))
        maker.add("super_carried", "2025-08-02", HIVE, count=1, to_hive=OTHER)
        assert ask(maker, FAR).supers == {("", HIVE): True, ("", OTHER): True}
        maker.add("super_emptied", "2025-08-03", OTHER)
        assert ask(maker, FAR).supers == {("", HIVE): True}

    def test_only_not_known_is_not_known(self, maker: RecordMaker) -> None:
        """No record of supers is off; recorded as not known is exposed: not known."""
        given = vapour(maker)
        maker.add("application", "2025-06-01", HIVE, **given)
        assert ask(maker, FAR).supers == {}
        maker.add("application", "2025-06-06", HIVE, supers="not known", **given)
        assert ask(maker, FAR).supers == {("", HIVE): False}

    def test_combs_present_where_terms_say_so(self, maker: RecordMaker) -> None:
        given = vapour(maker, supers="allowed", combs_exposed=True)
        maker.add("super_on", "2025-05-01", HIVE, mark="S1")
        maker.add("application", "2025-06-01", HIVE, **given)
        assert ask(maker, FAR).supers == {("S1", None): True}

    def test_brood_comb_moved_up_and_death(self, maker: RecordMaker) -> None:
        maker.add("super_on", "2025-05-01", HIVE, mark="S1")
        maker.add("comb_up", "2025-05-02", HIVE, mark="S1")
        maker.add("super_on", "2025-05-01", OTHER, mark="S2")
        maker.add("death", "2025-06-01", OTHER)
        assert ask(maker, FAR).supers == {("S1", None): True, ("S2", None): True}

    @pytest.mark.parametrize(
        ("day", "clock", "held"),
        [
            ("2025-08-01", "09:00:00", False),
            ("2025-08-01", "13:00:00", True),
            ("2025-10-10", "12:00:00", True),
            ("2025-10-11", "12:00:00", False),
        ],
    )
    def test_lots_to_hold(self, maker: RecordMaker, day: str, clock: str, held: bool) -> None:
        """A harvest before the day's first piece in is not held."""
        maker.add("application", "2025-08-01", HIVE, pieces=1, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=1, treatment="strips")
        maker.add("harvest", day, clock=clock, lot="L1", takes=[{"hive": HIVE}])
        assert ask(maker, FAR).held == ({"L1"} if held else frozenset())

    def test_a_fault_found_later_names_the_lot(self, maker: RecordMaker) -> None:
        maker.add("application", "2025-08-01", HIVE, pieces=2, **strips(maker))
        maker.add("pieces", "2025-09-26", HIVE, did="out", count=2, treatment="strips")
        maker.add("harvest", "2026-06-01", lot="L1", takes=[{"hive": HIVE}])
        assert not ask(maker, FAR).held
        maker.add("pieces", "2026-07-01", HIVE, did="found", count=1, treatment="strips")
        assert ask(maker, FAR).held == {"L1"}
