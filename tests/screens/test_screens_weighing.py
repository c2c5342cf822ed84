"""A dispenser weighed by touch, and a batch that is named and looked at before its round."""

from __future__ import annotations

import pytest
from driver import Phone
from eyes import troubles

from fieldapp.journal.record import Draft

FORMIC = "Formic acid 60 %, evaporated"
TRICKLE = "Oxalic acid 3.5 %, trickled"
DAY = 86_400


def write(app, kind, body, **where):
    notebook = app.kit.notebook
    return notebook.write([Draft(kind, notebook.moment(), notebook.keeper, body, **where)])[0]


def hives(app):
    notebook = app.kit.notebook
    stops = notebook.book.walk(notebook.local.get("apiary"), notebook.today())
    return [stop.hive for stop in stops]


def type_number(hand, number):
    for digit in str(number):
        hand.find(digit)
        hand.tap(digit, exactly=True)
    hand.tap("Take this")


@pytest.mark.parametrize(
    "phone",
    [Phone(412, 892, 1.0), Phone(360, 640, 1.8)],
    ids=lambda each: f"{each.width}x{each.height}@{each.font}",
)
def test_a_dispenser_is_weighed_in_taps(open_app, phone):
    """300 g as it goes in, 228 four days later: 18 g a day, as the label wants in summer."""
    app = open_app(phone)
    app.set_up("Feldrand", 1, "Germany")
    (hive,) = hives(app)
    write(app, "look", {"boxes": 1}, hive=hive)
    hand = app.hand
    hand.tap("Round at")
    for words in (FORMIC, "Not on the label", "As shown", "Hive 1"):
        hand.find(words)
        hand.tap(words)
    app.app.flow.hives.hive(hive, app.app.flow.due)
    hand.frames(2)
    for later, grams in ((0, 300), (4 * DAY, 228)):
        if app.page == "hive":
            hand.find("Weigh")
            hand.tap("Weigh", exactly=True)
        app.wait(later)
        hand.find("Weigh it now")
        hand.tap("Weigh it now")
        type_number(hand, grams)
    assert app.page == "weighing"
    assert [r.body["grams"] for r in app.records if r.kind == "weighed"] == [300, 228]
    assert any("Last: 18 g a day" in text for text in hand.all_pages())
    assert troubles(hand, app.page) == []


def test_a_cloudy_batch_is_named_and_kept_so(app):
    """The only batch stands there; tapped to *no* it is cloudy, with what to do first."""
    app.set_up("Feldrand", 2, "Germany")
    treatment = "DE/standard-authorisation-3-5/2006/oxalic-acid/trickle"
    batch = {"recipe": "Trickle (2006)", "treatment": treatment, "amount": 500, "unit": "mL"}
    root = write(app, "batch", batch).id
    hand = app.hand
    hand.tap("Round at")
    for words in (TRICKLE, "Not on the label", "40 mL"):
        hand.find(words)
        hand.tap(words)
    hand.find("Taken from")
    assert "Trickle (2006)" in hand.key("Taken from").text
    for _ in range(2):
        hand.find("clear or cloudy?")
        hand.tap("clear or cloudy?")
    assert any("Cloudy: warm it, stir" in text for text in hand.all_pages())
    hand.tap("As shown")
    hand.tap("Hive 1")
    (given,) = [r.body for r in app.records if r.kind == "application"]
    assert (given["batch"], given["clear"], given["dose"]["amount"]) == (root, "cloudy", 40)
