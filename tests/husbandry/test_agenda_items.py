"""Each thing that the agenda asks for: when it begins, when it is late, what ends it, and why."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from rules_season import APIARY, HIVE, OTHER, THIRD, Season, name

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.answers import Item
from fieldapp.words import Speech

speak = Speech()
WEEKLY = {
    "gap": {"least": 4, "target": 5, "most": 7},
    "applications": {"least": 3, "usual": 3, "most": 3},
}


def asked(season: Season, day: str, task: str, hive: str = HIVE) -> Item | None:
    """Return the item of a task at a hive as seen on a day."""
    items = hive_agenda(season.state(hive), date.fromisoformat(day))
    return next((item for item in items if item.task == task), None)


def run_of(season: Season, task: str, first: str, days: int, hive: str = HIVE) -> dict[str, str]:
    """Return the timings of a task by day, where it is on the agenda, over some days."""
    state, start = season.state(hive), date.fromisoformat(first)
    return {
        day.isoformat()[5:]: item.timing
        for day in (start + timedelta(days=number) for number in range(days))
        for item in hive_agenda(state, day)
        if item.task == task
    }


class TestTheDayAfter:
    """The look about 24 h after an application."""

    def test_it_is_due_for_two_days_then_late_and_no_longer_asked_after_seven(self) -> None:
        """Given on 1 June: due on the 2nd and 3rd, late to the 8th."""
        season = Season()
        season.apply(season.terms(), "2026-06-01")
        assert run_of(season, "look_after", "2026-05-30", 20) == {
            "06-01": "waiting",
            "06-02": "due",
            "06-03": "due",
            **{f"06-0{day}": "late" for day in range(4, 9)},
        }

    def test_a_look_of_another_application_does_not_end_it(self) -> None:
        """Two applications on one day: each is looked after."""
        season = Season()
        first = season.apply(season.terms(), "2026-06-01")
        season.apply(season.terms("GB/2/1/other/drip"), "2026-06-01")
        season.add("day_after", "2026-06-02", {"application": first, "board": "0-20"})
        left = asked(season, "2026-06-02", "look_after")
        assert left is not None
        assert left.treatment == "GB/2/1/other/drip"

    def test_what_rests_on_custom_says_so(self) -> None:
        """No source gives this day: its standing is *common practice*."""
        season = Season()
        given = season.apply(season.terms(), "2026-06-01")
        (why,) = asked(season, "2026-06-02", "look_after").reasons
        assert (why.records, why.standing) == ((given,), "common practice")

    def test_nothing_given_nothing_looked_after(self) -> None:
        """A method without chemicals asks for no such look."""
        season = Season()
        season.apply(season.terms(form="act"), "2026-06-01")
        assert asked(season, "2026-06-02", "look_after") is None


class TestTheQueenAfter:
    """Formic acid 85 %, Austria: look for the queen two weeks later (medikamio AT leaflet)."""

    @pytest.fixture
    def season(self) -> Season:
        """Given on 1 June with a look for the queen 14 days later."""
        season = Season()
        season.apply(season.terms(look_queen=14), "2026-06-01")
        return season

    def test_due_from_the_14th_day_late_a_week_after(self, season: Season) -> None:
        """Due 15 June, late from the 23rd."""
        days = run_of(season, "look_queen", "2026-06-01", 30)
        assert days["06-14"] == "waiting"
        assert days["06-15"] == days["06-22"] == "due"
        assert days["06-23"] == "late"

    @pytest.mark.parametrize(
        ("kind", "body", "ends"),
        [
            ("look", {"brood": "yes"}, False),
            ("look", {"queen": "not seen"}, False),
            ("look", {"queen": "seen"}, True),
            ("look", {"queen": "queenless"}, True),
            ("look", {"eggs": "yes"}, True),
            ("look", {"eggs": "none"}, False),
            ("queen", {"did": "introduced"}, True),
        ],
    )
    def test_only_what_tells_of_the_queen_ends_it(
        self, season: Season, kind: str, body: dict[str, str], ends: bool
    ) -> None:
        """A look that did not see her is no look for her."""
        season.add(kind, "2026-06-16", body)
        assert (asked(season, "2026-06-17", "look_queen") is None) is ends

    def test_before_the_day_it_is_no_answer(self, season: Season) -> None:
        """Seen on the 10th says nothing of the 15th."""
        season.add("look", "2026-06-10", {"queen": "seen"})
        assert asked(season, "2026-06-16", "look_queen") is not None


class TestCountAfter:
    """A count not before 14 days after the end (COLOSS BEEBOOK, Varroa, 4.5.4.2.6.1)."""

    def test_from_14_to_28_days_after_the_last_application(self) -> None:
        """Ended on 1 June: due 15 to 29 June, then late, for sixty days in all."""
        season = Season()
        season.apply(season.terms(), "2026-06-01")
        days = run_of(season, "count_after", "2026-06-01", 70)
        assert [day for day, timing in days.items() if timing == "due"][::14] == ["06-15", "06-29"]
        assert (days["06-14"], days["06-30"], list(days)[-1]) == ("waiting", "late", "07-31")
        (why,) = asked(season, "2026-06-20", "count_after").reasons
        assert "BEEBOOK" in why.source

    def test_pieces_count_from_the_last_out(self) -> None:
        """Out on 20 July: due from 3 August."""
        season = Season()
        terms = season.terms(form="pieces", stay=[{"when": "any", "least": 42, "most": 56}])
        season.apply(terms, "2026-06-01", pieces=2)
        assert asked(season, "2026-07-19", "count_after") is None
        season.pieces("out", terms, "2026-07-20", 2)
        assert asked(season, "2026-07-21", "count_after").first == date(2026, 8, 3)

    def test_a_course_that_was_stopped_is_counted_too_one_that_goes_on_is_not(self) -> None:
        """One of three given."""
        season = Season()
        terms = season.terms(**WEEKLY)
        season.apply(terms, "2026-06-01")
        assert asked(season, "2026-06-05", "count_after") is None
        season.add("course_stop", "2026-06-05", {"treatment": season.treatment(terms)})
        assert asked(season, "2026-06-20", "count_after").timing == "due"

    def test_a_count_of_its_days_ends_it_an_earlier_one_does_not(self) -> None:
        """Counted on the 12th day it is asked for still, on the 14th no more."""
        season = Season()
        season.apply(season.terms(), "2026-06-01")
        season.add("count", "2026-06-13", {"way": "wash", "mites": 3})
        assert asked(season, "2026-06-16", "count_after") is not None
        season.add("count", "2026-06-15", {"way": "wash", "mites": 1})
        assert asked(season, "2026-06-16", "count_after") is None


class TestCagedQueen:
    """Caged on d: treat from d + 25 (UK label (SPC), AN 01519/2014, section 4.4)."""

    def test_treat_from_the_25th_day_and_before_new_brood_is_sealed(self) -> None:
        """Caged 1 June: from the 26th; released on the 28th: to 6 July, since r + 9 is the 7th."""
        season = Season()
        season.add("queen", "2026-06-01", {"did": "caged"})
        assert asked(season, "2026-06-25", "broodless").timing == "waiting"
        held = asked(season, "2026-06-26", "broodless")
        assert (held.timing, held.first, held.last) == ("due", date(2026, 6, 26), None)
        season.add("queen", "2026-06-28", {"did": "released"})
        held = asked(season, "2026-06-28", "broodless")
        assert (held.first, held.last) == (date(2026, 6, 26), date(2026, 7, 6))
        assert asked(season, "2026-07-07", "broodless").timing == "late"
        assert [why.standing for why in held.reasons] == ["read", "reported"]

    def test_a_substance_ends_it_an_act_does_not(self) -> None:
        """Drone comb cut on the 27th day is no treatment of the broodless colony."""
        season = Season()
        season.add("queen", "2026-06-01", {"did": "caged"})
        season.apply(season.terms("any/m/1/none/cut", form="act"), "2026-06-27")
        assert asked(season, "2026-06-28", "broodless") is not None
        season.apply(season.terms(), "2026-06-28")
        assert asked(season, "2026-06-28", "broodless") is None

    def test_a_cage_is_not_forgotten(self) -> None:
        """Treated, and the queen still caged: she is to be let out until she is."""
        season = Season()
        season.add("queen", "2026-06-01", {"did": "caged"})
        assert asked(season, "2026-06-27", "release") is None
        season.apply(season.terms(), "2026-06-28")
        assert asked(season, "2026-09-28", "release").first == date(2026, 6, 28)
        season.add("queen", "2026-06-29", {"did": "released"})
        assert asked(season, "2026-06-29", "release") is None

    def test_another_queen_makes_it_nothing(self) -> None:
        """Removed, or a new one introduced."""
        season = Season()
        season.add("queen", "2026-06-01", {"did": "caged"})
        season.add("queen", "2026-06-10", {"did": "removed"})
        assert asked(season, "2026-06-27", "broodless") is None


class TestHoney:
    """Supers back, honey cleared, lots to hold, periods to be asked for."""

    def stayed_on(self, of: str) -> Season:
        """Return a season with a super on through a period of 14 days from 1 June."""
        season = Season()
        terms = season.terms(supers=of, period=14)
        season.add("super_on", "2026-05-01", {"mark": "S1"})
        season.apply(terms, "2026-06-01")
        return season

    def test_honey_of_supers_that_stayed_on_is_cleared(self) -> None:
        """Closed to 15 June with the super on, as the label allows."""
        season = self.stayed_on("allowed")
        days = run_of(season, "honey_cleared", "2026-06-01", 40)
        assert days == {f"06-{day}": "due" for day in range(16, 23)}
        assert asked(season, "2026-06-16", "supers_back") is None

    def test_honey_of_an_exposed_super_is_never_cleared(self) -> None:
        """On during a treatment that wants it off."""
        assert run_of(self.stayed_on("off"), "honey_cleared", "2026-06-01", 60) == {}

    def test_a_super_put_on_later_waited_for_nothing(self) -> None:
        """Nothing is said of a hive that had no super while it was closed."""
        season = Season()
        season.apply(season.terms(supers="off", period=0), "2026-06-01")
        season.add("super_on", "2026-06-03", {"mark": "S1"})
        assert asked(season, "2026-06-04", "honey_cleared") is None

    def test_a_hive_that_is_gone_still_names_the_lot_to_hold(self) -> None:
        """Drawn on closed days, and the hive sold after."""
        season = Season()
        season.apply(season.terms(supers="off", period=14), "2026-05-01")
        season.add("harvest", "2026-05-10", {"lot": "L1", "takes": [{"hive": HIVE}]}, None)
        season.add("hive", "2026-05-20", {"number": "1", "ended": "sold"}, apiary=APIARY)
        state = season.state()
        (held,) = hive_agenda(state, date(2026, 6, 1))
        assert (held.task, speak(held.what)[:11]) == ("hold", "Hold lot L1")

    def test_a_period_that_nobody_knows_is_asked_for(self) -> None:
        """Until the line of the label in hand is entered; what is told is shown beside."""
        season = Season()
        terms = season.terms(period=7, standing="reported")
        season.apply(terms, "2026-06-01")
        question = asked(season, "2026-06-02", "period")
        assert question.timing == "ask"
        assert [why.standing for why in question.reasons][-1] == "reported"
        season.period(terms, 3, name="A", day="2026-06-01")
        assert asked(season, "2026-06-02", "period") is None


class TestWithoutBees:
    """What is asked of bees is not asked of boxes that have none."""

    OF_BEES = frozenset(
        {"apply", "look_after", "look_queen", "count_after", "board_in", "board_out", "broodless"}
    )

    def filled(self, hive: str = HIVE) -> Season:
        """Return a season in which everything would be asked of a hive."""
        season = Season()
        season.apply(season.terms("GB/1/1/acid/drip", **WEEKLY), "2026-06-01", hive)
        season.apply(season.terms("GB/2/1/acid/mist", look_queen=1), "2026-06-01", hive)
        strips = season.terms(
            "GB/3/1/strip/hung", form="pieces", stay=[{"when": "any", "least": 42, "most": 56}]
        )
        season.apply(strips, "2026-06-01", hive, pieces=2)
        season.add("queen", "2026-05-10", {"did": "caged"}, hive)
        season.add("board", "2026-06-01", {"did": "in"}, hive)
        return season

    def tasks(self, season: Season, hive: str = HIVE) -> Iterator[str]:
        """Yield what a hive is asked on the first days after."""
        for number in range(3, 30):
            day = date(2026, 6, 1) + timedelta(days=number)
            yield from (item.task for item in hive_agenda(season.state(hive), day))

    def test_living_bees_are_asked_for_all_of_it(self) -> None:
        """So that there is something to leave out below."""
        found = set(self.tasks(self.filled()))
        assert {"apply", "look_after", "look_queen", "count_after", "board_out"} <= found

    def test_a_dead_colony_is_asked_for_its_pieces_only(self) -> None:
        """The pieces stay due; no count, no look, no treatment of the dead."""
        season = self.filled()
        season.add("death", "2026-06-02", {})
        found = set(self.tasks(season))
        assert {"dead", "remove"} <= found
        assert not found & self.OF_BEES

    @pytest.mark.parametrize("kind", ["unite", "transfer"])
    def test_emptied_boxes_are_asked_for_nothing_of_bees(self, kind: str) -> None:
        """Its bees went to another hive."""
        season = self.filled(OTHER)
        if kind == "unite":
            season.add("unite", "2026-06-02", {"from_hive": OTHER, "from_colony": OTHER}, HIVE)
        else:
            body = {"to_hive": HIVE, "combs": "with combs"}
            season.add("transfer", "2026-06-02", body, OTHER)
        assert not set(self.tasks(season, OTHER)) & self.OF_BEES
        assert "apply" in set(self.tasks(season, HIVE))

    @pytest.mark.parametrize("emptied", ["death", "unite"])
    def test_bees_that_nobody_recorded_are_looked_after(self, emptied: str) -> None:
        """Treated after its death, or after it was emptied: somebody lives there again."""
        season = Season()
        if emptied == "death":
            season.add("death", "2026-05-01", {})
        else:
            season.add("unite", "2026-05-01", {"from_hive": HIVE, "from_colony": HIVE}, OTHER)
        season.apply(season.terms(), "2026-06-01")
        assert asked(season, "2026-06-02", "look_after") is not None
        season.add("death", "2026-06-03", {})
        assert asked(season, "2026-06-04", "look_after") is None

    def test_who_lives_where(self) -> None:
        """Dead, emptied, sold: no bees there; a colony that came later lives."""
        season = Season()
        season.add("death", "2026-06-08", {}, HIVE)
        season.add("unite", "2026-06-08", {"from_hive": OTHER, "from_colony": OTHER}, THIRD)
        days = [date(2026, 6, day).toordinal() for day in (7, 8)]
        assert [season.state(HIVE).lives(day) for day in days] == [True, False]
        assert not season.state(OTHER).lives(days[1])
        assert season.state(THIRD).lives(days[1])
        season.add("colony", "2026-07-01", {"origin": "bought"}, HIVE, colony=name(0xC1))
        assert season.state(HIVE).lives(date(2026, 7, 1).toordinal())
