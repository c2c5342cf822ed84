"""The first page: what is due, and the round that a tap on it begins."""

from __future__ import annotations

from dataclasses import replace

from driver import Phone
from test_screens_round import tap_field

from fieldapp.device.position import GivenPosition

AMITRAZ = "Amitraz strips"
DAY = 86_400


def test_without_hives_the_page_says_what_to_do_first(app):
    """An empty apiary is not called *nothing due*."""
    app.set_up("Ferry Lane", 0)
    assert app.hand.reads("No hives yet")


def test_strips_that_must_come_out_are_due_and_a_tap_begins_the_round(keeper):
    """42 days after strips went in, at hives whose brood was seen to be none; late after that."""
    keeper.begin(AMITRAZ, days="14")
    tap_field(keeper, 13)
    keeper.hand.tap("What is due")
    keeper.wait(71 * DAY)
    keeper.reopen()
    assert keeper.page == "due"
    late = next(
        key for key in keeper.hand.shown_keys() if "out" in key.text and AMITRAZ in key.text
    )
    assert "late by 1 day" in late.text
    keeper.hand.touch(*late.center)
    keeper.hand.hands.pass_(1)
    keeper.hand.tap("As shown")
    assert keeper.hand.reads("2 pieces out")
    tap_field(keeper, 13)
    assert keeper.kinds().count("pieces") == 12
    assert all(r.body["count"] == 2 for r in keeper.records if r.kind == "pieces")
    keeper.hand.tap("What is due")
    assert not any("out" in key.text and AMITRAZ in key.text for key in keeper.hand.shown_keys())


def test_a_hives_page_says_until_when_honey_is_closed(keeper):
    """Label in hand 14 days: out on 10 September, closed to the 24th, open from the 25th."""
    keeper.begin(AMITRAZ, days="14")
    tap_field(keeper, 13)
    keeper.hand.tap("What is due")
    keeper.wait(71 * DAY)
    keeper.reopen()
    late = next(
        key for key in keeper.hand.shown_keys() if "out" in key.text and AMITRAZ in key.text
    )
    keeper.hand.touch(*late.center)
    keeper.hand.hands.pass_(1)
    keeper.hand.tap("As shown")
    tap_field(keeper, 13)
    keeper.hand.tap("What is due")
    keeper.hand.tap("Hives")
    keeper.hand.tap("Ferry Lane")
    keeper.hand.tap("1", exactly=True)
    assert keeper.hand.reads("Honey closed: may be taken from 25 Sep 2026")


def test_the_nearest_apiary_comes_first_where_a_position_is_known(open_app):
    """The key of a new round names the apiary where the keeper stands."""
    app = open_app()
    app.set_up("Ferry Lane", 2)
    notebook = app.kit.notebook
    from fieldapp.journal.record import Draft  # noqa: PLC0415

    notebook.write(
        [
            Draft(
                "apiary",
                notebook.moment(),
                notebook.keeper,
                {"name": name, "country": "GB", "lat": lat, "lon": -2.3},
                apiary=notebook.new_id(),
            )
            for name, lat in (("Quarry Top", 54.25), ("Orchard Row", 54.30))
        ]
    )
    app.kit.devices = app.kit.devices.__class__(
        GivenPosition(54.301, -2.3, notebook.clock.monotonic),
        app.kit.devices.vibration,
        app.kit.devices.voice,
        app.kit.devices.notices,
    )
    app.kit.locate()
    app.hand.frames(2)
    app.wait(1)
    assert app.hand.has_key("Round at Orchard Row")
    app.hand.tap("Other apiary")
    names = [key.text.split("\n")[0] for key in app.hand.shown_keys()]
    assert names[:3] == ["Orchard Row", "Quarry Top", "Ferry Lane"]


def test_a_line_that_no_round_can_do_shows_its_reasons_and_hives(keeper):
    """Nothing that is shown as a key leads nowhere."""
    keeper.hand.tap("Count mites")
    assert keeper.page == "line"
    keeper.hand.tap("1", exactly=True)
    assert keeper.page == "hive"
    keeper.hand.find("Back")
    keeper.hand.tap("Back")
    assert keeper.page == "line"


def test_the_first_position_keeps_the_page_that_is_in_sight(open_app):
    """A keeper who turned to the next page reads on; only the nearest apiary changes."""
    app = open_app(Phone(360, 640, 1.8))
    app.set_up("Ferry Lane", 2)
    app.hand.tap("More")
    before = app.hand.texts()
    clock = app.kit.notebook.clock
    app.kit.devices = replace(app.kit.devices, position=GivenPosition(54.3, -2.3, clock.monotonic))
    app.kit.locate()
    app.hand.frames(2)
    app.wait(1)
    assert app.kit.positions.latest is not None
    assert app.hand.texts() == before
