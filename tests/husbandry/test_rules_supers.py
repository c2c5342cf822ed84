"""Exposed supers: what exposes them, how they stay so, and what clears them."""

from datetime import date

import pytest
from rules_season import HIVE, OTHER, THIRD, Season

from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.state import SuperState


def supers(season: Season, hive: str = HIVE) -> dict[str, SuperState]:
    """Return the supers of a hive by mark, the unmarked lot under an empty one."""
    return {each.mark: each for each in season.state(hive).supers}


def exposed(season: Season, mark: str = "S1", hive: str = HIVE) -> bool:
    """Whether a super is exposed."""
    return supers(season, hive)[mark].exposed


def on(season: Season, day: str, mark: str = "S1", hive: str = HIVE, at: str = "") -> None:
    """Put a marked super on."""
    season.add("super_on", day, {"mark": mark}, hive, at)


def off(season: Season, day: str, mark: str = "S1", hive: str = HIVE, at: str = "") -> None:
    """Take a marked super off."""
    season.add("super_off", day, {"mark": mark}, hive, at)


def test_on_during_a_treatment_that_wants_it_off() -> None:
    """A super on at the instant of the application is exposed, and time does not clear it."""
    season = Season()
    on(season, "2026-05-01")
    season.apply(season.terms(supers="off"), "2026-06-01")
    off(season, "2026-06-20")
    assert exposed(season)
    assert honey(season.state(), date(2030, 1, 1)).exposed[0].mark == "S1"


def test_on_during_a_treatment_that_allows_it() -> None:
    """Nothing is exposed."""
    season = Season()
    on(season, "2026-05-01")
    season.apply(season.terms(supers="allowed"), "2026-06-01")
    assert not exposed(season)


def test_combs_that_the_terms_keep_from_extraction_are_exposed() -> None:
    """Supers allowed, but combs present are not extracted for people later."""
    season = Season()
    on(season, "2026-05-01")
    season.apply(season.terms(supers="allowed", combs_exposed=True), "2026-06-01")
    assert exposed(season)


def test_taken_off_before_the_first_piece_goes_in_on_the_same_day() -> None:
    """By the instant, not by the day."""
    season = Season()
    on(season, "2026-05-01")
    off(season, "2026-08-01", at="09:00:00")
    terms = season.terms(form="pieces", supers="off")
    season.apply(terms, "2026-08-01", at="09:10:00", pieces=2)
    assert not exposed(season)


def test_taken_off_after_the_first_piece_went_in() -> None:
    """Ten minutes are enough."""
    season = Season()
    on(season, "2026-05-01")
    terms = season.terms(form="pieces", supers="off")
    season.apply(terms, "2026-08-01", at="09:10:00", pieces=2)
    off(season, "2026-08-01", at="09:20:00")
    assert exposed(season)


@pytest.mark.parametrize(("put_on", "is_exposed"), [("2026-06-11", True), ("2026-06-12", False)])
def test_put_on_during_closed_days(put_on: str, is_exposed: bool) -> None:
    """Closed from 1 to 11 June by a treatment that wants supers off."""
    season = Season()
    season.apply(season.terms(supers="off", period=10), "2026-06-01")
    on(season, put_on)
    assert exposed(season) is is_exposed


def test_a_period_on_honey_alone_exposes_no_super() -> None:
    """Put on after the last piece is out, in the days closed for honey only."""
    season = Season()
    period = {"form": "days", "days": 30, "honey_only": True}
    season.apply(season.terms(supers="off", period=period), "2026-06-01")
    on(season, "2026-06-10")
    assert not exposed(season)


def test_until_next_season_ends_for_supers_with_the_season() -> None:
    """Put on the same autumn it is exposed, put on next spring it is not."""
    season = Season()
    terms = season.terms(supers="off", period={"form": "next season's supers"})
    season.apply(terms, "2026-08-01")
    on(season, "2026-09-01", "S1")
    on(season, "2027-05-01", "S2")
    assert exposed(season, "S1")
    assert not exposed(season, "S2")


def test_carried_to_another_hive_it_stays_exposed() -> None:
    """Wherever it is carried."""
    season = Season()
    on(season, "2026-05-01")
    season.apply(season.terms(supers="off"), "2026-06-01")
    season.add("super_carried", "2026-06-20", {"mark": "S1", "to_hive": OTHER})
    assert supers(season, OTHER)["S1"].exposed
    assert "S1" not in supers(season, HIVE)


def test_only_emptied_and_not_for_people_clears_it() -> None:
    """Then it is as new, until the next treatment."""
    season = Season()
    on(season, "2026-05-01")
    terms = season.terms(supers="off")
    season.apply(terms, "2026-06-01")
    off(season, "2026-06-20")
    season.add("super_emptied", "2026-07-01", {"mark": "S1", "how": "fed back"}, hive=None)
    assert not exposed(season)
    on(season, "2026-07-10")
    season.apply(terms, "2026-08-01")
    assert exposed(season)


def test_emptied_while_strips_are_in_does_not_clear_it() -> None:
    """It is on, and the strips still are."""
    season = Season()
    on(season, "2026-05-01")
    terms = season.terms(form="pieces", supers="off")
    season.apply(terms, "2026-06-01", pieces=1)
    season.add("super_emptied", "2026-06-05", {"mark": "S1"})
    assert exposed(season)


def test_unmarked_supers_of_a_hive_are_one_lot() -> None:
    """Exposure of any is of all, and one carried away is exposed."""
    season = Season()
    season.add("super_on", "2026-05-01", {"count": 2})
    season.apply(season.terms(supers="off"), "2026-06-01")
    season.add("super_carried", "2026-06-20", {"count": 1, "to_hive": OTHER})
    assert exposed(season, "")
    assert exposed(season, "", OTHER)


def test_one_added_to_an_exposed_lot_becomes_so() -> None:
    """From the store of another hive's lot, and on from there."""
    season = Season()
    season.add("super_on", "2026-05-01", {"count": 1})
    season.apply(season.terms(supers="off"), "2026-06-01")
    season.add("super_off", "2026-06-20", {})
    season.add("super_on", "2026-07-01", {"count": 1, "of_hive": HIVE}, hive=OTHER)
    season.add("super_carried", "2026-07-10", {"count": 1, "to_hive": THIRD}, hive=OTHER)
    assert exposed(season, "", OTHER)
    assert exposed(season, "", THIRD)


def test_a_lot_is_cleared_by_all_emptied() -> None:
    """Without a mark: all unmarked supers of the hive."""
    season = Season()
    season.add("super_on", "2026-05-01", {"count": 2})
    season.apply(season.terms(supers="off"), "2026-06-01")
    season.add("super_off", "2026-06-20", {})
    season.add("super_emptied", "2026-07-01", {})
    assert not exposed(season, "")


def test_supers_not_known_at_an_application_are_exposed_not_known() -> None:
    """And no record of supers is *off*."""
    season = Season()
    terms = season.terms(supers="off")
    season.apply(terms, "2026-06-01")
    assert supers(season) == {}
    season.apply(terms, "2026-06-20", supers="not known")
    lot = supers(season)[""]
    assert (lot.exposed, lot.certain) == (True, False)


def test_supers_that_the_keeper_saw_on_are_exposed() -> None:
    """Though nobody recorded that they went on."""
    season = Season()
    season.apply(season.terms(supers="off"), "2026-06-01", supers="on")
    lot = supers(season)[""]
    assert (lot.exposed, lot.certain) == (True, True)


def test_a_comb_of_the_brood_box_moved_up_exposes_its_super() -> None:
    """Comb of the brood box is never for people."""
    season = Season()
    on(season, "2026-05-01")
    season.add("comb_up", "2026-05-20", {"mark": "S1"})
    assert exposed(season)


def test_every_super_on_at_a_colonys_death_is_exposed() -> None:
    """Also without any treatment."""
    season = Season()
    on(season, "2026-05-01", "S1")
    on(season, "2026-05-02", "S2")
    off(season, "2026-05-20", "S2")
    season.add("death", "2026-06-01", {})
    assert exposed(season, "S1")
    assert not exposed(season, "S2")


def test_supers_along_a_split_are_judged_from_the_split() -> None:
    """The part's closed days are copied: a super that goes along in them is exposed."""
    season = Season()
    terms = season.terms(supers="off", period=10)
    season.apply(terms, "2026-06-01")
    body = {"to_hive": OTHER, "to_colony": OTHER, "pieces_along": 0, "supers_along": ["S1"]}
    season.add("split", "2026-06-05", body, colony=HIVE)
    assert exposed(season, "S1", OTHER)


class TestLots:
    """Lots of honey: which are to be held, and why."""

    def drawn(self, season: Season, day: str, at: str = "", **take: str) -> None:
        """Draw honey of the hive into a lot."""
        season.add("harvest", day, {"lot": "L1", "takes": [{"hive": HIVE, **take}]}, None, at)

    def held(self, season: Season) -> bool:
        """Whether the lot is to be held."""
        return bool(season.state().drawn[0].held)

    @pytest.mark.parametrize(("at", "is_held"), [("08:00:00", False), ("12:00:00", True)])
    def test_before_or_after_the_days_first_application(self, at: str, is_held: bool) -> None:
        """A harvest before the day's first application is not held."""
        season = Season()
        season.apply(season.terms(supers="off", period=3), "2026-06-01", at="10:00:00")
        self.drawn(season, "2026-06-01", at)
        assert self.held(season) is is_held

    @pytest.mark.parametrize(("day", "is_held"), [("2026-06-04", True), ("2026-06-05", False)])
    def test_in_and_after_closed_days(self, day: str, is_held: bool) -> None:
        """Closed to 4 June."""
        season = Season()
        season.apply(season.terms(supers="off", period=3), "2026-06-01")
        self.drawn(season, day)
        assert self.held(season) is is_held

    def test_an_exposed_super_is_held_whenever_it_is_drawn(self) -> None:
        """Time does not clear it."""
        season = Season()
        on(season, "2026-05-01")
        season.apply(season.terms(supers="off"), "2026-06-01")
        self.drawn(season, "2026-08-01", mark="S1")
        assert self.held(season)

    def test_a_strip_found_later_names_the_lot(self) -> None:
        """All out in September, honey in May, a strip found in June: it was in all the time."""
        season = Season()
        terms = season.terms(form="pieces", supers="off")
        season.apply(terms, "2025-08-01", pieces=2)
        season.pieces("out", terms, "2025-09-12", 2)
        self.drawn(season, "2026-05-20")
        assert not self.held(season)
        season.pieces("found", terms, "2026-06-10", 1)
        assert self.held(season)

    def test_a_longer_period_entered_later_names_the_lot(self) -> None:
        """The entry holds for earlier applications too."""
        season = Season()
        terms = season.terms(supers="off", period=3)
        season.apply(terms, "2026-06-01")
        self.drawn(season, "2026-06-10")
        assert not self.held(season)
        season.period(terms, 14)
        assert self.held(season)
