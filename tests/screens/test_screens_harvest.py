"""Honey on the pixels: supers to a lot, what stands against them, lots to hold, emptied."""

from __future__ import annotations

import pytest
from stock_scene import Scene


def go(app, *words):
    for each in words:
        app.hand.find(each)
        app.hand.tap(each)


def bodies(app, kind):
    return [record.body for record in app.records if record.kind == kind]


@pytest.fixture
def yard(keeper):
    """Hives 1, 2 and 6 fine, 3 closed, 4 not known, 5 exposed; the page of the honey."""
    keeper.scene = Scene(keeper)
    keeper.scene.supers()
    keeper.app.flow.again()
    go(keeper, "Home", "Honey")
    return keeper


def test_supers_go_into_a_lot_in_taps(yard):
    """Two supers that are fine, mark, amount, off with it."""
    go(yard, "Take honey", "Hive 1, super S1", "2 supers of hive 6", "Into a lot")
    assert yard.hand.reads("2 supers into a lot")
    go(yard, "The lot's mark", "2026-3", "How much")
    for digit in ("2", "1", ".", "5"):
        yard.hand.tap(digit, exactly=True)
    yard.hand.tap("Take this")
    go(yard, "These supers are off", "yes", "Write it down")
    assert yard.page == "honey lot"
    hives = yard.scene.hives
    assert bodies(yard, "harvest")[-1] == {
        "lot": "2026-3",
        "takes": [{"hive": hives["1"], "mark": "S1"}, {"hive": hives["6"]}],
        "amount": 21.5,
        "unit": "kg",
    }
    assert bodies(yard, "super_off") == [{"mark": "S1"}, {}]
    assert yard.hand.reads("nothing on record against it")
    assert not any("safe" in text for text in yard.hand.all_pages())


def test_what_is_exposed_takes_a_tap_of_its_own_and_is_held(yard):
    """The first tap shows what stands against it; the second takes it as it is."""
    go(yard, "Take honey", "Hive 3, super S3")
    assert yard.page == "not fine"
    assert yard.hand.reads("exposed: never for people")
    assert not yard.hand.has_key("Into a lot")
    go(yard, "Take it all the same")
    assert yard.page == "harvest"
    go(yard, "Into a lot")
    assert any("The lot is to be held" in text for text in yard.hand.texts())
    go(yard, "The lot's mark", "2026-3", "Write it down")
    texts = yard.hand.all_pages()
    assert "hold it" in texts
    assert any(text.startswith("Pieces in: Amitraz strips") for text in texts)
    assert bodies(yard, "harvest")[-1]["takes"] == [{"hive": yard.scene.hives["3"], "mark": "S3"}]


def test_looked_at_and_left(yard):
    """Back from what stands against a super takes nothing."""
    go(yard, "Take honey", "Hive 5, super S5", "Back")
    assert yard.page == "harvest"
    assert not yard.hand.has_key("Into a lot")


def test_chosen_supers_are_there_after_the_phone_died(yard):
    """A harvest goes on where it was."""
    go(yard, "Take honey", "Hive 1, super S1")
    yard.reopen()
    go(yard, "Home", "Honey", "Take honey")
    assert yard.hand.reads("goes in")
    assert yard.hand.has_key("Into a lot")


def test_another_day_decides_what_is_closed(yard):
    """Taken off before the strips went in: closed days of June are none of it."""
    go(yard, "Take honey", "Taken off on")
    yard.hand.tap("2026", exactly=True)
    go(yard, "May")
    yard.hand.tap("15", exactly=True)
    assert yard.hand.reads("Taken off on 15 May 2026")
    go(yard, "Hive 4, super S4")
    assert yard.page == "not fine", "exposed since, whatever the day asked"


def test_an_exposed_super_is_emptied_in_taps(yard):
    """Which one, and how: it stands no longer among them."""
    go(yard, "Exposed supers", "Super S5", "melted")
    assert yard.page == "exposed"
    assert not yard.hand.has_key("Super S5")
    assert bodies(yard, "super_emptied") == [{"mark": "S5", "how": "melted"}]


def test_a_lot_to_hold_is_reached_from_the_first_page_and_from_the_hive(yard):
    """Both ways to the same page."""
    go(yard, "Back", "Back", "Hold lot 2026-2")
    assert yard.page == "honey lot"
    assert yard.hand.reads("The super was exposed: Brood comb moved up, hive 5")
    go(yard, "Back", "Hives", "Ferry Lane")
    yard.hand.find("5")
    yard.hand.tap("5", exactly=True)
    go(yard, "Honey lots", "Lot 2026-2")
    assert yard.page == "honey lot"
    go(yard, "Back")
    assert yard.page == "hive's honey"


def test_a_harvest_is_put_right(yard):
    """Its amount was misread."""
    go(yard, "Lot 2026-1", "Record 1", "Put right", "How much", "An amount")
    for digit in ("1", "3"):
        yard.hand.tap(digit, exactly=True)
    yard.hand.tap("Take this")
    go(yard, "Go on", "misread", "Back")
    assert yard.hand.reads("13 kg")
    correction = next(record for record in yard.records if record.corrects is not None)
    assert correction.body["amount"] == 13
    assert correction.body["takes"] == [{"hive": yard.scene.hives["1"], "mark": "S1"}]
