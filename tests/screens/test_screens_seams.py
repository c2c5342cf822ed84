"""A trickle by occupied seams: the dose differs by hive, and is counted in taps."""

from __future__ import annotations

import pytest
from test_screens_round import field, tap_field

from fieldapp.journal.record import Draft

TRICKLE = "Oxalic acid 3.5 %, trickled"


@pytest.fixture
def trickle(app):
    """A round by seams at twelve hives in Germany, just begun."""
    app.set_up("Feldrand", 12, "Germany")
    hand = app.hand
    hand.tap("Round at")
    hand.find(TRICKLE)
    hand.tap(TRICKLE)
    hand.find("Not on the label")
    hand.tap("Not on the label")
    hand.find("5 mL a seam")
    hand.tap("5 mL a seam")
    hand.tap("As shown")
    return app


def doses(app):
    return [r.body["dose"]["amount"] for r in app.records if r.kind == "application"]


def test_the_seams_of_each_hive_give_its_dose_to_the_quarter(trickle):
    """Six and a quarter seams at 5 mL: 31.25 mL."""
    tap_field(trickle)
    assert trickle.page == "seams"
    trickle.hand.tap("a quarter more")
    trickle.hand.find("6 ¼")
    trickle.hand.tap("6 ¼")
    assert doses(trickle) == [31.25]
    assert next(r for r in trickle.records if r.kind == "application").body["seams"] == 6.25


def test_twelve_hives_with_a_dose_each_take_at_most_28_taps(trickle):
    """From the open app to the end, the seams said at every hive, none like the last time."""
    while trickle.page != "summary":
        tap_field(trickle)
        if trickle.page == "seams":
            trickle.hand.tap("4", exactly=True)
    trickle.hand.tap("What is due")
    taps = 0
    for words in ("Round at", TRICKLE, "As shown"):
        trickle.hand.tap(words)
        taps += 1
    while trickle.page != "summary":
        tap_field(trickle)
        taps += 1
        if trickle.page == "seams":
            trickle.hand.tap("5", exactly=True)
            taps += 1
    assert doses(trickle) == [20] * 12 + [25] * 12
    assert taps <= 28


def test_the_last_look_is_the_default(trickle):
    """What was seen last is the one large key of the page."""
    tap_field(trickle)
    trickle.hand.tap("8", exactly=True)
    trickle.hand.tap("Undo")
    hive = trickle.records[-1].hive
    notebook = trickle.kit.notebook
    notebook.write([Draft("look", notebook.moment(), notebook.keeper, {"seams": 6.75}, hive=hive)])
    tap_field(trickle)
    trickle.hand.tap("6 ¾ as last seen")
    assert doses(trickle)[-1] == 33.75


def test_the_field_says_the_dose_that_the_seams_give(trickle):
    """*8 seams: 40 mL* in the second round."""
    tap_field(trickle)
    trickle.hand.tap("8", exactly=True)
    trickle.wait(60)
    trickle.hand.tap("End round")
    trickle.hand.tap("End round")
    trickle.hand.tap("What is due")
    for words in ("Round at", TRICKLE, "As shown"):
        trickle.hand.tap(words)
    assert "8 seams: 40 mL" in field(trickle).text
