"""Reminders while the program runs: each line of the agenda once, until it becomes late."""

from __future__ import annotations

import sys
from pathlib import Path

from fieldapp.device.notices import PlyerNotices
from fieldapp.rounds.reminders import Reminders
from fieldapp.words import Speech

sys.path.append(str(Path(__file__).parents[1] / "device"))
from notification_bus import notification_bus

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
DAY = 86_400


def strips_in(phone, hives=3):
    phone.set_up(hives)
    round_ = phone.start(AMITRAZ).begin()
    for hive in phone.hives():
        round_.tap(hive)
    round_.end()


def told(phone, words):
    return [(title, text) for title, text in phone.shown.took if words in title + text]


def test_strips_that_become_late_are_reminded_of_once(phone):
    """What, where and by when; the same again only when its state changes."""
    strips_in(phone)
    phone.kit.reminders.check()
    phone.shown.took.clear()
    phone.time.pass_(71 * DAY)
    phone.kit.reminders.check()
    (late,) = told(phone, "out")
    assert "Amitraz strips" in late[0]
    assert late[1].startswith("Apiary 1, 3 hives: late by 1 day")
    phone.shown.took.clear()
    phone.kit.reminders.check()
    assert phone.shown.took == []


def test_what_the_system_did_not_take_is_reminded_of_again(phone):
    """A reminder that nobody saw has not been given."""
    strips_in(phone)
    phone.time.pass_(71 * DAY)
    phone.shown.refuses = True
    assert phone.kit.reminders.check() == 0
    phone.shown.refuses = False
    assert phone.kit.reminders.check() > 0
    assert told(phone, "late by 1 day")


def test_many_new_lines_are_one_notification(phone):
    """Nobody gets a dozen reminders at one time."""
    for _ in range(6):
        phone.set_up(9)
    assert phone.kit.reminders.check() == 1
    (title, _), *rest = phone.shown.took
    assert rest == []
    assert title == "6 things are due"


def test_the_words_of_a_reminder_arrive_on_a_real_bus(phone, tmp_path):
    """Through plyer to the desktop's notification service, read off the bus."""
    strips_in(phone)
    phone.time.pass_(71 * DAY)
    with notification_bus(tmp_path) as bus:
        raised = Reminders(phone.notebook, PlyerNotices(), Speech()).check()
        taken = bus.wait(raised)
    assert any(
        "Amitraz strips" in one["title"] and one["text"].startswith("Apiary 1, 3 hives: late")
        for one in taken
    )
