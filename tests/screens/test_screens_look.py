"""A look inside, the day after, pieces and rounds of looking: every step a touch on pixels."""

from __future__ import annotations

import pytest

from fieldapp.screens.keys import BigField

AMITRAZ = "Amitraz strips"
DAY = 86_400


def field(app):
    return next(key for key in app.hand.shown_keys() if isinstance(key, BigField))


def touch_field(app):
    app.hand.touch(*field(app).center)
    app.hand.hands.pass_(1)
    app.hand.frames(1)


def go(app, *words):
    for each in words:
        app.hand.find(each)
        app.hand.tap(each)


def newest(app, kind):
    return [record for record in app.records if record.kind == kind][-1]


@pytest.fixture
def hive(keeper):
    """The page of hive 7."""
    go(keeper, "Hives", "Ferry Lane")
    keeper.hand.find("7")
    keeper.hand.tap("7", exactly=True)
    return keeper


@pytest.fixture
def treated(keeper):
    """Twelve hives with strips in since yesterday."""
    keeper.begin(AMITRAZ)
    for _ in range(13):
        touch_field(keeper)
    keeper.hand.tap("What is due")
    keeper.hand.hands.pass_(DAY)
    keeper.reopen()
    return keeper


def test_a_look_is_two_taps_a_question_and_one_to_save(hive):
    """Brood, queen, seams to the quarter: each answered on its own, no keyboard."""
    go(hive, "Look inside")
    go(hive, "Sealed brood", "hardly any", "Queen", "cells", "Seams of bees", "a quarter more")
    hive.hand.find("6 ¼")
    hive.hand.tap("6 ¼", exactly=True)
    go(hive, "Save")
    assert newest(hive, "look").body == {"brood": "hardly any", "queen": "cells", "seams": 6.25}
    assert hive.page == "hive"
    assert hive.hand.reads("Sealed brood: hardly any (1 Jul 2026)")
    assert "tap" in hive.buzzer.felt


def test_an_answer_can_be_taken_back_before_it_is_saved(hive):
    """Not said again, and without any answer there is nothing to save."""
    go(hive, "Look inside", "Temper", "calm")
    assert hive.hand.has_key("Save")
    go(hive, "Temper", "Not said")
    assert not hive.hand.has_key("Save")
    assert "look" not in hive.kinds()


def test_a_look_left_open_is_there_when_the_phone_comes_back(hive):
    """Killed with two answers on the page: both stand there again."""
    go(hive, "Look inside", "Stores", "short", "Eggs", "none")
    hive.reopen()
    go(hive, "Hives", "Ferry Lane")
    hive.hand.find("7")
    hive.hand.tap("7", exactly=True)
    go(hive, "Look inside")
    assert "short" in hive.hand.key("Stores").text
    assert "none" in hive.hand.key("Eggs").text


def test_what_was_done_is_logged_with_the_look(hive):
    """Queen caged and feed by the half litre."""
    go(hive, "Look inside", "Done with the queen", "caged", "Feed given", "syrup")
    go(hive, "Feed, litres", "a half more")
    hive.hand.find("2 ½")
    hive.hand.tap("2 ½", exactly=True)
    go(hive, "Save")
    assert newest(hive, "queen").body == {"did": "caged"}
    assert newest(hive, "feed").body == {"what": "syrup", "amount": 2.5, "unit": "L"}
    assert hive.hand.reads("Queen caged since 1 Jul 2026")


def test_the_line_of_the_day_after_begins_its_round(treated):
    """Hive by hive in the same large field; saved, answered, and taken back by undo."""
    treated.hand.find("the day after")
    treated.hand.tap("the day after")
    assert treated.page == "line"
    go(treated, "Begin the round")
    place = (*field(treated).pos, *field(treated).size)
    touch_field(treated)
    assert treated.hand.reads("Hive 1: the day after")
    go(treated, "Dead at the entrance", "101 to 500")
    assert treated.hand.reads("stop the course")
    go(treated, "Save")
    assert treated.hand.reads("Hive 1: the day after saved")
    assert (*field(treated).pos, *field(treated).size) == place
    assert "Hive 2" in field(treated).text
    body = newest(treated, "day_after").body
    assert body["entrance"] == "101-500"
    assert body["application"] in [r.id for r in treated.records if r.kind == "application"]
    treated.hand.tap("Undo")
    assert "Hive 1" in field(treated).text
    assert newest(treated, "day_after").void
    assert treated.buzzer.felt[-1] == "undo"


def test_a_round_of_looking_goes_on_where_it_was(treated):
    """Killed after two hives: the third is next; ended, the first page is what is due."""
    treated.hand.find("the day after")
    go(treated, "the day after", "Begin the round")
    for _ in range(2):
        touch_field(treated)
        go(treated, "Dead on the board", "0 to 20", "Save")
    treated.reopen()
    assert treated.page == "look round"
    assert treated.hand.reads("2 of 12 hives")
    assert "Hive 3" in field(treated).text
    treated.hand.tap("End round")
    assert treated.page == "due"
    treated.reopen()
    assert treated.page == "due"


def test_a_hive_out_of_order_and_one_passed_over(treated):
    """The grid shows what is done; passing over asks why."""
    treated.hand.find("the day after")
    go(treated, "the day after", "Begin the round", "Other hive", "Pass over hive 1", "too cold")
    assert newest(treated, "skip").body["why"] == "too cold"
    treated.wait(60)
    treated.hand.tap("Other hive")
    assert "not done" in treated.hand.key("1").text
    treated.hand.find("5")
    treated.hand.tap("5", exactly=True)
    assert treated.hand.reads("Hive 5: the day after")


def test_pieces_of_a_round_by_number(treated):
    """One tap said two out; one of them is still in: corrected by number, still one hive done."""
    treated.hand.hands.pass_(71 * DAY)
    treated.reopen()
    go(treated, "pieces out", "As shown")
    touch_field(treated)
    go(treated, "Not like that", "Other number")
    treated.hand.tap("1", exactly=True)
    held = [r for r in treated.records if r.kind == "pieces"]
    assert [(r.body["count"], r.void) for r in held] == [(2, False), (2, True), (1, False)]
    assert treated.hand.reads("1 of 12 hives")
    hive = held[0].hive
    assert treated.kit.notebook.book.hive(hive).exposures[0].open


def test_pieces_where_none_were_ever_in_say_what_to_do(hive):
    """An empty state that names the first step, and nothing to save."""
    go(hive, "Pieces")
    assert hive.hand.reads("Log the treatment first")
    go(hive, "Taken out")
    hive.hand.tap("1", exactly=True)
    assert not hive.hand.has_key("Save")
