"""Pieces and exposures: in, out, lost, found, and stays that depend on brood."""

from datetime import date

import pytest
from rules_season import HIVE, OTHER, Season

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.answers import Item
from fieldapp.husbandry.progress import course_state, window_of
from fieldapp.words.speech import Speech

BY_BROOD = [
    {"when": "no or hardly any brood", "least": 42, "most": 42},
    {"when": "brood", "least": 70, "most": 70},
]
ANY = [{"when": "any", "least": 42, "most": 56}]
speak = Speech()


def strips(stay: list[dict[str, object]] | None = BY_BROOD, on: str = "2025-08-01", **says: object):
    """Return a season with two strips in, and their terms."""
    season = Season()
    terms = season.terms(form="pieces", stay=stay, **says)
    season.apply(terms, on, pieces=2)
    return season, terms


def task(season: Season, day: str, name: str) -> Item | None:
    """Return the item of a task as seen on a day."""
    items = hive_agenda(season.state(), date.fromisoformat(day))
    return next((item for item in items if item.task == name), None)


def word(season: Season, day: str) -> str:
    """Return how the last course stands on a day."""
    state = season.state()
    return course_state(state.courses[-1], state, date.fromisoformat(day).toordinal())


def test_in_on_1_august_and_no_brood_is_out_by_12_september() -> None:
    """The worked example: 42 days with no or hardly any brood."""
    season, _ = strips()
    season.add("look", "2025-08-01", {"brood": "none"})
    item = task(season, "2025-08-20", "remove")
    assert (item.timing, item.last) == ("waiting", date(2025, 9, 12))


def test_in_on_1_august_and_brood_is_out_by_10_october() -> None:
    """The worked example: 70 days with brood."""
    season, _ = strips()
    season.add("look", "2025-08-05", {"brood": "yes"})
    assert task(season, "2025-08-20", "remove").last == date(2025, 10, 10)


def test_not_known_looks_on_12_september_with_both_outcomes() -> None:
    """The worked example: nobody looked, so the agenda says look on the first condition's day."""
    season, _ = strips()
    look = task(season, "2025-09-12", "look_brood")
    assert (look.timing, look.first) == ("due", date(2025, 9, 12))
    said = [speak(reason.phrase) for reason in look.reasons]
    assert any("12 Sep 2025" in text for text in said)
    assert any("10 Oct 2025" in text for text in said)
    assert task(season, "2025-09-12", "remove") is None


def test_not_known_is_late_after_the_latest_most() -> None:
    """After 10 October the strips are late whatever the brood was."""
    season, _ = strips()
    assert task(season, "2025-10-10", "remove") is None
    assert task(season, "2025-10-11", "remove").timing == "late"


def test_an_earlier_look_decides_only_until_the_first_conditions_day() -> None:
    """On 12 September a look of August says nothing any more."""
    season, _ = strips()
    season.add("look", "2025-08-20", {"brood": "yes"})
    assert task(season, "2025-09-11", "remove").last == date(2025, 10, 10)
    assert task(season, "2025-09-12", "look_brood").timing == "due"
    assert task(season, "2025-09-12", "remove") is None
    season.add("look", "2025-09-12", {"brood": "none"})
    assert task(season, "2025-09-13", "remove").timing == "late"


def test_a_look_that_did_not_see_brood_is_no_look() -> None:
    """*not seen* leaves the question open."""
    season, _ = strips()
    season.add("look", "2025-09-12", {"brood": "not seen"})
    assert task(season, "2025-09-12", "look_brood").timing == "due"


@pytest.mark.parametrize(("looked", "known"), [("2025-07-25", True), ("2025-07-24", False)])
def test_a_look_counts_from_seven_days_before(looked: str, known: bool) -> None:
    """A week before the first piece in is near enough, eight days are not."""
    season, _ = strips()
    season.add("look", looked, {"brood": "none"})
    window = window_of(season.exposure(), season.state(), date(2025, 8, 2).toordinal())
    assert (window.condition != "not known") is known


def test_a_look_after_the_day_asked_does_not_count_yet() -> None:
    """The day asked filters looks."""
    season, _ = strips()
    season.add("look", "2025-08-20", {"brood": "none"})
    window = window_of(season.exposure(), season.state(), date(2025, 8, 19).toordinal())
    assert window.condition == "not known"


def test_out_between_the_leasts_with_no_look_is_not_complete() -> None:
    """*stay not known*: 50 days are enough without brood, not with it."""
    season, terms = strips()
    season.pieces("out", terms, "2025-09-20", 2)
    assert word(season, "2025-10-30") == "stay not known"
    season.add("look", "2025-09-15", {"brood": "none"})
    assert word(season, "2025-10-30") == "complete"


def test_out_before_the_least_is_taken_out_early() -> None:
    """It does not complete the course."""
    season, terms = strips(ANY)
    season.pieces("out", terms, "2025-08-20", 2)
    assert word(season, "2025-10-01") == "taken out early"


def test_a_piece_course_completes_at_the_last_out() -> None:
    """*pieces in* until the second strip is out."""
    season, terms = strips(ANY)
    season.pieces("out", terms, "2025-09-12", 1)
    assert word(season, "2025-09-13") == "pieces in"
    season.pieces("out", terms, "2025-09-14", 1)
    assert word(season, "2025-09-14") == "complete"
    assert season.exposure().last_out == date(2025, 9, 14).toordinal()


def test_forgotten_strips_stay_at_the_top() -> None:
    """A year later they are the first thing said."""
    season, _ = strips(ANY)
    later = season.terms("GB/2/1/acid/drip", gap={"least": 4, "most": 7}, applications={"usual": 3})
    season.apply(later, "2026-08-01")
    items = hive_agenda(season.state(), date(2026, 8, 12))
    assert (items[0].task, items[0].timing) == ("remove", "late")


def test_a_replacement_is_the_same_exposure() -> None:
    """Out and in at once: nothing ends, nothing begins."""
    season, terms = strips(ANY)
    season.pieces("replaced", terms, "2025-08-20", 2)
    exposures = season.state().exposures
    assert len(exposures) == 1
    assert (exposures[0].open, exposures[0].remaining) == (True, 2)


def test_a_second_labelled_application_is_a_new_exposure() -> None:
    """The second sponge: the first one's out leaves it open."""
    season = Season()
    terms = season.terms(form="pieces", gap={"least": 21, "most": 28}, applications={"usual": 2})
    season.apply(terms, "2026-08-01", pieces=1)
    season.pieces("out", terms, "2026-08-25", 1, at="10:00:00")
    season.apply(terms, "2026-08-25", at="10:01:00", pieces=1)
    first, second = season.state().exposures
    assert (first.open, second.open) == (False, True)
    assert season.course().k == 2


def test_lost_outside_the_hive_ends_it() -> None:
    """A strip seen outside the hive is no longer in."""
    season, terms = strips(ANY)
    season.pieces("out", terms, "2025-09-12", 1)
    season.pieces("lost", terms, "2025-09-13", 1, seen="outside the hive")
    assert season.exposure().last_out == date(2025, 9, 13).toordinal()


@pytest.mark.parametrize("seen", [{"seen": "not found"}, {}])
def test_lost_and_not_found_stays_open(seen: dict[str, str]) -> None:
    """Only *seen outside* or *every box searched* ends an exposure."""
    season, terms = strips(ANY)
    season.pieces("out", terms, "2025-09-12", 1)
    season.pieces("lost", terms, "2025-09-13", 1, **seen)
    exposure = season.exposure()
    assert (exposure.open, exposure.not_found) == (True, 1)
    assert task(season, "2025-09-14", "pieces").timing == "ask"


def test_a_piece_found_opens_its_exposure_again() -> None:
    """Whatever the count: it was in all the time."""
    season, terms = strips(ANY, period=14)
    season.pieces("out", terms, "2025-09-12", 2)
    season.pieces("found", terms, "2026-04-10", 1)
    assert season.exposure().open
    season.pieces("out", terms, "2026-04-10", 1, at="23:00:00")
    assert season.state().closed[0][:2] == (
        date(2025, 8, 1).toordinal(),
        date(2026, 4, 24).toordinal(),
    )


def test_more_out_than_in_ends_it_and_is_flagged() -> None:
    """A later in counts from zero."""
    season, terms = strips(ANY)
    season.pieces("out", terms, "2025-09-12", 3)
    assert season.exposure().flags[0][:2] == ("more out than in", 1)
    season.apply(terms, "2026-08-01", pieces=2)
    season.pieces("out", terms, "2026-09-20", 1)
    assert season.exposure().open


def test_a_number_that_nobody_gave_never_ends_by_count() -> None:
    """Left out is not known: it stays open and is asked for."""
    season = Season()
    terms = season.terms(form="pieces", stay=ANY)
    season.apply(terms, "2025-08-01")
    season.pieces("out", terms, "2025-09-12", 2)
    assert season.exposure().open
    assert [question.what for question in season.state().questions] == ["pieces"]


def test_pieces_moved_where_none_are_known_are_of_this_hive() -> None:
    """A strip moved in another hive is a strip in that hive."""
    season, terms = strips(ANY)
    season.pieces("moved", terms, "2025-08-20", 1, hive=OTHER)
    assert season.exposure(OTHER).remaining == 1
    assert season.exposure(HIVE).remaining == 2


def test_a_stay_that_the_label_does_not_give_is_asked_for() -> None:
    """No days are made up."""
    season, _ = strips(None)
    item = task(season, "2025-09-01", "remove")
    assert (item.timing, item.last) == ("ask", None)


def test_removal_is_due_inside_and_late_after_the_window() -> None:
    """From first in + least to first in + most."""
    season, _ = strips(ANY)
    assert task(season, "2025-09-11", "remove").timing == "waiting"
    assert task(season, "2025-09-12", "remove").timing == "due"
    assert task(season, "2025-09-26", "remove").timing == "due"
    assert task(season, "2025-09-27", "remove").timing == "late"
