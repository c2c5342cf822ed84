"""Stock on the pixels: bought, used, disposed of, counted, put right; what wears and expires."""

from __future__ import annotations

import pytest
from stock_scene import Scene

STRIPS = "Amitraz strips"


def go(app, *words):
    for each in words:
        app.hand.find(each)
        app.hand.tap(each)


def answer(app, question, *taps):
    """Open a question of the form and tap its answer."""
    go(app, question, *taps)


def digits(app, question, number):
    go(app, question)
    for digit in number:
        app.hand.find(digit)
        app.hand.tap(digit, exactly=True)
    app.hand.tap("Take this")


def write(app, question, text):
    go(app, question)
    app.hand.tap_entry()
    app.hand.type(text)
    app.hand.tap("Take this")


def bodies(app, kind):
    return [record.body for record in app.records if record.kind == kind]


def buy(app, number="20", lot="22"):
    """Write a purchase of strips down in taps, from the page of the stock."""
    go(app, "Write a purchase down")
    answer(app, "For which treatment", STRIPS)
    digits(app, "How much", number)
    answer(app, "Kept in", "strip")
    write(app, "Lot number", lot)
    answer(app, "Last day", "2027", "March", "No day on it")
    write(app, "Supplier", "a dealer")
    go(app, "Write it down")


@pytest.fixture
def stock(keeper):
    """Great Britain, twelve hives, the page of the stock."""
    go(keeper, "Home", "Stock")
    return keeper


def test_a_purchase_in_taps(stock):
    """Treatment, number, unit, lot, last day by its month: one record, and its balance at once."""
    assert stock.hand.reads("Nothing is written down")
    buy(stock)
    assert bodies(stock, "bought") == [
        {
            "treatment": "GB/AN-00561-2015/2015/amitraz/strips",
            "product": STRIPS,
            "amount": 20.0,
            "unit": "strip",
            "lot": "22",
            "expiry": "2027-03-31",
            "supplier": "a dealer",
        }
    ]
    assert stock.page == "stock"
    assert stock.hand.reads("20 strips on hand: bought 20, used 0, disposed 0")


def test_half_a_purchase_is_there_after_the_phone_died(stock):
    """Answers are kept at once, and can be forgotten."""
    go(stock, "Write a purchase down")
    write(stock, "Product", "candles")
    stock.reopen()
    go(stock, "Home", "Stock", "Write a purchase down")
    assert stock.hand.reads("candles")
    go(stock, "Forget what was entered", "Write a purchase down")
    assert not stock.hand.reads("candles")
    assert bodies(stock, "bought") == []


def test_the_last_supplier_is_one_tap(stock):
    """Two purchases: supplier and unit of the first stand first in the second."""
    buy(stock)
    go(stock, "Write a purchase down", "Supplier", "a dealer", "Kept in")
    units = [key.text for key in stock.hand.shown_keys()]
    assert units[:2] == ["strip", "tray"], "the unit of the last purchase stands first"
    stock.hand.tap("strip", exactly=True)
    assert "a dealer" in stock.hand.all_pages()


def test_a_use_outside_a_round_in_taps(stock):
    """Two hives, two strips each, the label's line at the first use: applications as of a round."""
    buy(stock)
    go(stock, "lot 22", "Used outside a round", "Which hives")
    for number in ("3", "4"):
        stock.hand.tap(number, exactly=True)
    go(stock, "Go on")
    digits(stock, "How much each", "2")
    answer(stock, "On which day", "30 Jun 2026")
    answer(stock, "Honey supers were", "off")
    digits(stock, "Days to wait for honey", "0")
    go(stock, "Write it down")
    assert stock.page == "lot"
    assert stock.hand.reads("16 strips on hand: bought 20, used 4")
    applications = [record for record in stock.records if record.kind == "application"]
    assert [(record.day, record.body["pieces"]) for record in applications] == [
        ("2026-06-30", 2),
        ("2026-06-30", 2),
    ]
    assert bodies(stock, "period")[0]["period"] == {"form": "days", "days": 0}
    go(stock, "30 Jun 2026: 2 strips, hive 4")
    assert (stock.page, stock.hand.reads("Treated")) == ("record", True)


def test_disposed_of_counted_and_the_gap_named(stock):
    """Two to waste, fifteen counted where eighteen should be."""
    buy(stock)
    go(stock, "lot 22", "Dispose of it")
    assert stock.hand.reads("As its label and local rules say")
    go(stock, "How much", "Another amount")
    stock.hand.tap("2", exactly=True)
    stock.hand.tap("Take this")
    answer(stock, "In which way", "collection of hazardous waste")
    answer(stock, "Why", "left over")
    go(stock, "Write it down", "Count it")
    digits(stock, "How much is there", "15")
    go(stock, "Write it down")
    assert bodies(stock, "disposed")[0]["how"] == "collection of hazardous waste"
    assert bodies(stock, "note") == [{"words": "left over"}]
    assert bodies(stock, "on_hand")[0]["amount"] == 15
    texts = stock.hand.all_pages()
    assert "counted 15, the books say 18 (strips): 3 missing" in texts


def test_a_purchase_is_put_right_with_a_reason(stock):
    """Eighteen, not twenty: a correction with the reason beside it, and the balance follows."""
    buy(stock)
    go(stock, "lot 22", "The record", "Put right")
    digits(stock, "How much", "18")
    go(stock, "Go on", "misread")
    correction = next(record for record in stock.records if record.corrects is not None)
    assert (correction.kind, correction.body["amount"]) == ("bought", 18)
    assert bodies(stock, "note") == [{"words": "misread"}]
    go(stock, "Back")
    assert stock.hand.reads("bought 18, used 0")


def test_a_purchase_taken_back_leaves_the_books(stock):
    """A void: the page of the lot is gone, the stock is shown."""
    buy(stock)
    go(stock, "lot 22", "The record", "Take back", "did not happen")
    assert stock.page == "stock"
    assert stock.hand.reads("Nothing is written down")
    assert any(record.void for record in stock.records)


def test_a_filter_is_written_down_and_changed(stock):
    """Type, opened, last day; then a new one in its place with days of its own."""
    go(stock, "Wear parts and filters", "Write a new one down")
    answer(stock, "What is it", "respirator filter")
    write(stock, "Type, as printed on it", "A2P3")
    answer(stock, "Opened on", "30 Jun 2026")
    answer(stock, "Last day", "2027", "January", "No day on it")
    go(stock, "Write it down", "A2P3")
    assert stock.hand.reads("last day 31 Jan 2027")
    go(stock, "Changed for a new one", "Opened on", "1 Jul 2026", "Write it down")
    assert bodies(stock, "gear") == [
        {"what": "filter", "name": "A2P3", "opened": "2026-06-30", "expiry": "2027-01-31"},
        {"what": "filter", "name": "A2P3", "opened": "2026-07-01"},
        {
            "what": "filter",
            "name": "A2P3",
            "opened": "2026-06-30",
            "expiry": "2027-01-31",
            "ended": True,
        },
    ]
    assert len([key for key in stock.hand.shown_keys() if "A2P3" in key.text]) == 1


def test_a_thing_is_thrown_away(stock):
    """Gone from the page, not from the books."""
    go(stock, "Wear parts and filters", "Write a new one down")
    answer(stock, "What is it", "thermometer")
    write(stock, "Name", "pen")
    go(stock, "Write it down", "pen", "Thrown away")
    assert stock.page == "gear"
    assert not stock.hand.has_key("pen")
    assert bodies(stock, "gear")[-1] == {"what": "thermometer", "name": "pen", "ended": True}


@pytest.mark.parametrize(
    ("line", "page"),
    [("Past its last day", "lot"), ("Until when? ABEK", "thing"), ("Complete the record", "stock")],
)
def test_lines_of_the_first_page_lead_to_the_stock(keeper, line, page):
    """A tap on the line shows where it is dealt with; back is the first page."""
    scene = Scene(keeper)
    scene.stock()
    scene.gear()
    keeper.app.flow.again()
    go(keeper, line)
    assert keeper.page == page
    go(keeper, "Back")
    assert keeper.page == "due"
