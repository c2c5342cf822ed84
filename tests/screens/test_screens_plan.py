"""The keeper's own plan by touches: stepped, taken, and seen in what is due."""

from __future__ import annotations

import pytest
from driver import Phone
from eyes import troubles

VAPOUR = "Oxalic acid powder, sublimed"
PHONES = [Phone(360, 640, 1.8), Phone(412, 892, 1.0)]


def to_the_plan(app):
    """From first start to the page of the plan."""
    app.set_up("Ferry Lane", 2)
    for words in ("Round at", VAPOUR, "Not on the label", "Own plan"):
        app.hand.find(words)
        app.hand.tap(words)
    assert app.page == "plan"


def test_a_plan_of_three_vapours_is_tapped_in_and_over_label_is_said(open_app):
    """The page says *over label* at once, and the taps of the round carry the plan."""
    app = open_app(PHONES[1])
    to_the_plan(app)
    assert app.hand.reads("Over label")
    for words in ("One more", "Take this plan"):
        app.hand.find(words)
        app.hand.tap(words)
    app.hand.find("3 times, 7 days apart")
    app.hand.tap("As shown")
    app.hand.tap("Hive 1")
    plan = next(record for record in app.records if record.kind == "plan")
    given = [record for record in app.records if record.kind == "application"]
    assert plan.body["number"] == 3
    assert [record.body.get("plan") for record in given] == [plan.id]


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_the_plan_suits_glove_and_eye(open_app, phone):
    """Every key large enough and no text cut, on each of its pages."""
    app = open_app(phone)
    to_the_plan(app)
    found = []
    for _ in range(8):
        found += troubles(app.hand, app.page)
        if not app.hand.has_key("More"):
            break
        app.hand.tap("More")
    assert found == []
