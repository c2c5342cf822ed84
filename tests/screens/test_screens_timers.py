"""Timers of hives in a round: seen to run, called out, cut short, alive after a kill."""

from __future__ import annotations

import pytest
from kivy.core.window import Window
from running import Shown
from test_screens_round import applications, field, tap_field

VAPOUR = "Oxalic acid powder, sublimed"


@pytest.fixture
def vapour(open_app):
    """A round of vapour at twelve hives: 20 s of vapour, then two minutes closed."""
    app = open_app(notices=Shown())
    app.set_up("Ferry Lane", 12)
    hand = app.hand
    hand.tap("Round at")
    hand.find(VAPOUR)
    hand.tap(VAPOUR)
    hand.find("Not on the label")
    hand.tap("Not on the label")
    hand.find("Time a hive")
    hand.tap("Time a hive")
    for words in ("Runs: 10 s more", "Runs: 10 s more", "Closed: 1 min more", "Closed: 1 min more"):
        hand.find(words)
        hand.tap(words)
    assert hand.reads("runs 0:20, then closed 2:00")
    hand.tap("Take this")
    hand.tap("As shown")
    return app


def test_no_time_is_assumed(keeper):
    """Before the keeper said one, the page says that none is set and the tap starts no timer."""
    keeper.hand.tap("Round at")
    keeper.hand.find(VAPOUR)
    keeper.hand.tap(VAPOUR)
    keeper.hand.find("Not on the label")
    keeper.hand.tap("Not on the label")
    keeper.hand.find("Time a hive")
    assert "not set" in keeper.hand.key("Time a hive").text
    keeper.hand.tap("As shown")
    tap_field(keeper)
    assert not keeper.kit.timers.any
    assert "seconds" not in applications(keeper)["1"]


def test_two_timers_run_on_the_page_and_the_field_stays(vapour):
    """Each second anew; the next hive stands where it stood."""
    place = (*field(vapour).pos, *field(vapour).size)
    tap_field(vapour)
    vapour.wait(4)
    assert vapour.hand.reads("Hive 1: runs 0:15")
    tap_field(vapour)
    vapour.wait(1)
    assert vapour.hand.reads("Hive 1: runs 0:13")
    assert vapour.hand.reads("Hive 2: runs 0:18")
    assert "Hive 3" in field(vapour).text
    assert (*field(vapour).pos, *field(vapour).size) == place
    vapour.wait(14)
    assert vapour.hand.reads("Hive 1: closed 1:59")
    assert (*field(vapour).pos, *field(vapour).size) == place


def test_each_end_is_spoken_and_felt_once_whatever_page_is_in_sight(vapour):
    """Spoken though taps are not: under first aid too, and on the grid."""
    tap_field(vapour)
    vapour.hand.tap("First aid")
    vapour.wait(19)
    vapour.wait(1)
    assert vapour.page == "aid"
    assert vapour.speaker.said == ["Hive 1: vapour over, keep it closed"]
    assert vapour.buzzer.felt == ["tap", "over"]
    vapour.hand.tap("Back")
    vapour.wait(1)
    vapour.hand.tap("Other hive")
    assert vapour.page == "grid"
    vapour.wait(120)
    assert vapour.speaker.said[1:] == ["Hive 1: time over, open the entrance"]
    assert vapour.buzzer.felt == ["tap", "over", "over"]
    assert not [title for title, _ in vapour.kit.devices.notices.took if "Hive" in title]


def test_aside_the_end_is_a_notification_too(vapour):
    """Another window is in front."""
    tap_field(vapour)
    vapour.app.flow.aside = lambda: True
    vapour.wait(20)
    took = [each for each in vapour.kit.devices.notices.took if "Hive" in each[0]]
    assert took == [("Hive 1: vapour over, keep it closed", "Touch to go on with the round")]


def test_cut_short_from_the_page_is_a_part_dose(vapour):
    """Two taps: not like that, cut short."""
    tap_field(vapour)
    vapour.wait(6)
    vapour.hand.tap("Not like that")
    vapour.hand.tap("Cut short")
    body = applications(vapour)["1"]
    assert body["part"] is True
    assert body["seconds"] in (7, 8)
    assert vapour.hand.reads("Hive 1 done: cut short, part dose")
    assert not vapour.kit.timers.any
    vapour.hand.tap("Not like that")
    assert not vapour.hand.has_key("Cut short")


def test_cut_short_later_from_the_grid(vapour):
    """The hive's key shows what is left; the timer of the other hive runs on."""
    tap_field(vapour, 2)
    vapour.wait(40)
    vapour.hand.tap("Other hive")
    assert "left" in vapour.hand.key("1\n").text
    vapour.hand.tap("1\n")
    vapour.hand.tap("Cut short")
    held = applications(vapour)
    assert (held["1"]["part"], held["1"]["seconds"]) == (True, 20)
    assert "part" not in held["2"]
    assert [each.number for each in vapour.kit.timers.running()] == ["2"]


def test_killed_in_the_middle_the_timer_goes_on(vapour):
    """Opened again half a minute later: still closed, for what is left."""
    tap_field(vapour)
    vapour.close()
    vapour.hand.hands.pass_(30)
    vapour.open()
    vapour.wait(1)
    assert vapour.page == "round"
    assert vapour.hand.reads("Hive 1: closed 1:4")
    vapour.wait(110)
    assert vapour.speaker.said[-1] == "Hive 1: time over, open the entrance"


def test_what_is_over_stands_first_until_the_next_tap(vapour):
    """An entrance to open is seen before what still runs."""
    tap_field(vapour)
    vapour.wait(120)
    tap_field(vapour)
    vapour.wait(20)
    texts = vapour.hand.texts()
    over = texts.index("Hive 1: time over, open the entrance")
    assert over < texts.index("Hive 2: closed 1:59")
    tap_field(vapour)
    vapour.wait(1)
    assert not vapour.hand.reads("Hive 1: time over")


def test_the_screen_stays_on_while_a_timer_runs(vapour):
    """A phone asleep calls nothing out."""
    tap_field(vapour)
    vapour.app.tick()
    assert Window.allow_screensaver is False
    vapour.hand.tap("Undo")
    vapour.app.tick()
    assert Window.allow_screensaver is True


def test_the_summary_says_first_whose_entrance_is_still_closed(vapour):
    """Before what was not done."""
    tap_field(vapour)
    vapour.wait(30)
    vapour.hand.tap("End round")
    texts = vapour.hand.texts()
    closed = next(text for text in texts if text.startswith("Hive 1: closed"))
    assert texts.index(closed) < texts.index("Not done")
