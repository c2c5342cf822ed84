"""A round in the hand: every step is a touch on the pixels of the real window."""

from __future__ import annotations

import pytest

from fieldapp.screens.keys import BigField

AMITRAZ = "Amitraz strips"


def applications(app):
    """The applications that hold, by hive number, as the book has them."""
    book, today = app.kit.notebook.book, app.kit.notebook.today()
    found = {}
    for place in book.apiaries(today):
        for stop in book.walk(place.id, today):
            for entry in book.history(stop.hive):
                if entry.root.kind == "application" and not entry.void:
                    found[stop.number] = entry.holds.body
    return found


def field(app):
    return next(key for key in app.hand.shown_keys() if isinstance(key, BigField))


def tap_field(app, times=1):
    for _ in range(times):
        app.hand.touch(*field(app).center)
        app.hand.hands.pass_(1)
        app.hand.frames(1)


@pytest.fixture
def round_(keeper):
    """A round of amitraz strips at the twelve hives, just begun."""
    keeper.begin(AMITRAZ)
    return keeper


def test_twelve_hives_take_at_most_16_taps_from_the_open_app_to_the_end(keeper):
    """Second round with a treatment: nothing is asked again that the records know."""
    keeper.begin(AMITRAZ)
    tap_field(keeper, 13)
    keeper.hand.tap("What is due")
    keeper.reopen()
    taps = 0
    for words in ("Round at Ferry Lane", AMITRAZ, "As shown: begin"):
        keeper.hand.tap(words)
        taps += 1
    while keeper.page == "round":
        tap_field(keeper)
        taps += 1
    assert keeper.page == "summary"
    assert keeper.kinds().count("round_end") == 2
    assert taps <= 16


def test_each_tap_is_on_the_disk_before_it_is_answered(round_):
    """After each tap the journal, read by another connection, holds one application more."""
    for done in range(1, 4):
        round_.hand.touch(*field(round_).center)
        round_.hand.hands.pass_(1)
        assert round_.kinds().count("application") == done
        assert round_.hand.reads(f"Hive {done} done")


def test_the_application_says_what_when_where_and_by_whom(round_):
    """One tap fills the record: treatment, terms, pieces, dose, supers, round, keeper, colony."""
    tap_field(round_)
    record = next(r for r in round_.records if r.kind == "application")
    assert record.body["treatment"] == "GB/AN-00561-2015/2015/amitraz/strips"
    assert record.body["pieces"] == 2
    assert record.body["supers"] == "off"
    assert record.body["round"] == next(r.id for r in round_.records if r.kind == "round")
    assert record.body["terms"] == next(r.id for r in round_.records if r.kind == "terms")
    assert record.happened.endswith("+01:00[Europe/London]")
    assert record.keeper == round_.kit.notebook.keeper
    assert record.colony == record.hive


def test_the_field_stays_where_it_is(round_):
    """The next hive stands in the same place, whatever stands above it."""
    places = set()
    for _ in range(6):
        places.add((*field(round_).pos, *field(round_).size))
        tap_field(round_)
    round_.wait(60)
    places.add((*field(round_).pos, *field(round_).size))
    assert len(places) == 1


def test_a_doubled_tap_logs_one_hive(round_):
    """The bounce of a wet finger lands on the field of the next hive and logs nothing."""
    round_.hand.touch(*field(round_).center)
    round_.hand.hands.pass_(0.12)
    round_.hand.touch(*field(round_).center)
    assert list(applications(round_)) == ["1"]
    round_.hand.hands.pass_(0.5)
    round_.hand.touch(*field(round_).center)
    assert list(applications(round_)) == ["1", "2"]


def test_a_doubled_tap_on_begin_logs_no_hive(keeper):
    """The bounce of the tap that begins the round lands on no field either."""
    keeper.hand.tap("Round at")
    keeper.hand.find(AMITRAZ)
    keeper.hand.tap(AMITRAZ)
    keeper.hand.find("Not on the label")
    keeper.hand.tap("Not on the label")
    where = keeper.hand.key("As shown").center
    keeper.hand.touch(*where)
    keeper.hand.hands.pass_(0.1)
    keeper.hand.touch(*where)
    assert keeper.page == "round"
    assert applications(keeper) == {}


def test_the_ball_of_the_hand_beside_a_finger_logs_nothing(round_):
    """A second touch while a finger is down is ignored; the finger's own tap counts."""
    hand = round_.hand
    x, y = field(round_).center
    finger = hand.press(x, y)
    hand.frames(1)
    palm = hand.press(x + 60, y - 40)
    hand.lift(palm)
    hand.frames(1)
    assert applications(round_) == {}
    hand.lift(finger)
    hand.frames(1)
    assert list(applications(round_)) == ["1"]


def test_a_finger_that_slides_off_the_field_logs_nothing(round_):
    """Who slides away before lifting has changed their mind."""
    hand = round_.hand
    finger = hand.press(*field(round_).center)
    finger.move({"x": 0.5, "y": 0.95})
    hand.lift(finger)
    hand.frames(1)
    assert applications(round_) == {}


def test_undo_takes_the_tap_back_and_the_hive_is_next_again(round_):
    """The record stays and is voided as a slip."""
    tap_field(round_, 2)
    round_.hand.tap("Undo")
    assert list(applications(round_)) == ["1"]
    assert round_.hand.reads("Hive 2: taken back")
    assert round_.hand.has_key("Hive 2")
    void = next(r for r in round_.records if r.corrects)
    assert void.void
    assert void.body["reason"] == "slip"


def test_undo_and_not_like_that_stand_for_some_seconds(round_):
    """After them the same places lead to another hive and to the end."""
    tap_field(round_)
    assert round_.hand.has_key("Undo")
    round_.wait(5)
    assert round_.hand.has_key("Not like that")
    round_.wait(30)
    assert not round_.hand.has_key("Undo")
    assert round_.hand.has_key("Other hive")


def otherwise(app, *words):
    app.hand.tap("Not like that")
    for word in words:
        app.hand.find(word)
        app.hand.tap(word)


def test_not_like_that_skipped_and_why(round_):
    """The application is void, the skip says why, and the walk goes on."""
    tap_field(round_)
    otherwise(round_, "Not done", "too weak")
    assert applications(round_) == {}
    assert next(r for r in round_.records if r.kind == "skip").body["why"] == "too weak"
    assert round_.hand.has_key("Hive 2")


def test_not_like_that_other_amount(round_):
    """Three strips instead of two: a correction, and three pieces to come out."""
    tap_field(round_)
    otherwise(round_, "Other amount")
    round_.hand.tap("3", exactly=True)
    body = applications(round_)["1"]
    assert body["pieces"] == 3
    assert body["dose"]["amount"] == 3


def test_not_like_that_supers_were_on(round_):
    """The application holds, with supers on."""
    tap_field(round_)
    otherwise(round_, "Supers were on")
    assert applications(round_)["1"]["supers"] == "on"


def test_not_like_that_part_dose(round_):
    """The application holds, as a part dose."""
    tap_field(round_)
    otherwise(round_, "Part dose")
    assert applications(round_)["1"]["part"] is True


def test_not_like_that_dead(round_):
    """The application is void, the death is recorded, the hive is not done because dead."""
    tap_field(round_)
    otherwise(round_, "Dead")
    assert applications(round_) == {}
    assert round_.kinds().count("death") == 1
    assert next(r for r in round_.records if r.kind == "skip").body["why"] == "dead"


def test_two_corrections_in_a_row_are_one_line_of_versions(round_):
    """A second correction names the first as replaced: no question is left for the keeper."""
    tap_field(round_)
    otherwise(round_, "Part dose")
    otherwise(round_, "Supers were on")
    first, second = [r for r in round_.records if r.corrects]
    assert second.corrects == first.corrects
    assert second.heads == (first.id,)
    body = applications(round_)["1"]
    assert (body["part"], body["supers"]) == (True, "on")
    assert round_.kit.notebook.book.questions() == []


def test_a_hive_out_of_order(round_):
    """From the grid; the walk goes on after it and comes back to those left."""
    round_.hand.tap("Other hive")
    round_.hand.find("5\n")
    round_.hand.tap("5\n")
    assert list(applications(round_)) == ["5"]
    assert round_.hand.has_key("Hive 6")
    tap_field(round_, 7)
    assert round_.hand.has_key("Hive 1")


def test_a_hive_can_be_passed_over_before_it_is_treated(round_):
    """From the grid, with the reason."""
    round_.hand.tap("Other hive")
    round_.hand.find("Pass over hive 1")
    round_.hand.tap("Pass over hive 1")
    round_.hand.find("queenless")
    round_.hand.tap("queenless")
    assert applications(round_) == {}
    assert round_.hand.has_key("Hive 2")


def test_closed_in_the_middle_the_round_goes_on_where_it_was(round_):
    """What was tapped is there, once, and the next hive is next."""
    tap_field(round_, 5)
    round_.reopen()
    assert round_.page == "round"
    assert round_.hand.has_key("Hive 6")
    assert round_.hand.reads("5 of 12 hives")
    assert len(applications(round_)) == 5
    tap_field(round_)
    assert applications(round_)["6"]["pieces"] == 2


def test_taps_are_felt_and_if_wanted_heard(round_):
    """Vibration always; a few words only when they are switched on."""
    tap_field(round_)
    assert round_.buzzer.felt == ["tap"]
    assert round_.speaker.said == []
    round_.kit.notebook.local.put("speaks", True)
    tap_field(round_)
    assert round_.speaker.said == ["Hive 2 done"]


def test_the_summary_says_first_what_was_not_done_and_why(round_):
    """Then what was done, then what comes next, with its days."""
    tap_field(round_)
    otherwise(round_, "Not done", "supers on")
    tap_field(round_, 11)
    assert round_.page == "round"
    tap_field(round_)
    texts = round_.hand.all_pages()
    order = [texts.index(words) for words in ("Not done", "Done", "What comes next")]
    assert order == sorted(order)
    assert "Hive 1: supers on" in texts
    assert "Hives 2-12: 2 pieces" in texts
    assert any("12 Aug 2026" in text for text in texts[order[2] :])  # 1 July + 42 days


def test_a_full_disk_is_said_and_nothing_saved_is_lost(round_):
    """No traceback: what to do, and the round goes on when there is room."""
    tap_field(round_, 2)
    connection = round_.kit.notebook.journal.connections.here()
    pages = connection.execute("PRAGMA page_count").fetchone()[0]
    connection.execute(f"PRAGMA max_page_count = {pages}")
    while round_.page == "round" and len(applications(round_)) < 12:
        tap_field(round_)
    assert round_.page == "trouble"
    assert round_.hand.reads("no room")
    kept = len(applications(round_))
    connection.execute("PRAGMA max_page_count = 1000000")
    round_.hand.tap("Back")
    assert round_.hand.has_key(f"Hive {kept + 1}")
    tap_field(round_)
    assert len(applications(round_)) == kept + 1


def test_an_unanswered_check_is_stored_as_not_known(keeper):
    """Each check on its own; what was tapped once is yes, twice is no."""
    keeper.hand.tap("Round at")
    keeper.hand.find("sublim")
    keeper.hand.tap("sublim")
    while keeper.page in ("label", "amount"):
        keeper.hand.find("Not on the label" if keeper.page == "label" else "As the label")
        keeper.hand.tap("Not on the label" if keeper.page == "label" else "As the label")
    keeper.hand.find("Respirator on")
    keeper.hand.tap("Respirator on")
    keeper.hand.find("upwind")
    keeper.hand.tap("upwind")
    keeper.hand.find("upwind")
    keeper.hand.tap("upwind")
    keeper.hand.tap("As shown")
    checks = next(r for r in keeper.records if r.kind == "round").body["checks"]
    assert checks["respirator"] == "yes"
    assert checks["up wind"] == "no"
    assert checks["seal"] == "not known"
    assert set(checks.values()) == {"yes", "no", "not known"}
