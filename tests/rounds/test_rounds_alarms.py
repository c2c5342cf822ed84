"""Reminders for while the program is closed: made from the agenda, armed by the system."""

from __future__ import annotations

from fieldapp.rounds.alarms import Alarms
from fieldapp.words import Speech

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
DAY = 86_400


class System:
    """A phone that takes what is armed."""

    there = True

    def __init__(self) -> None:
        self.armed = []

    def replace(self, alarms) -> bool:
        self.armed = list(alarms)
        return True


def strips_in(phone, hives=3):
    phone.set_up(hives)
    round_ = phone.start(AMITRAZ).begin()
    for hive in phone.hives():
        round_.tap(hive)
    round_.end()


def about_strips(phone):
    """Return the alarms about strips that are in: look for brood, or take them out."""
    system = System()
    assert Alarms(phone.notebook, system, Speech(), phone.kit.timers).arm()
    return [alarm for alarm in system.armed if alarm.name.startswith(("remove|", "look_brood|"))]


def test_strips_ring_on_their_day_on_their_last_and_when_late(phone):
    """In on 1 July, brood not known: a look after 42 days, 70 at most, and the day after."""
    strips_in(phone)
    alarms = about_strips(phone)
    assert [f"{alarm.at:%d %b %H:%M}" for alarm in alarms] == [
        "12 Aug 07:00",
        "09 Sep 07:00",
        "10 Sep 07:00",
    ]
    assert "Amitraz strips" in alarms[0].title
    assert [alarm.text for alarm in alarms] == [
        "Apiary 1, 3 hives: by 9 Sep 2026",
        "Apiary 1, 3 hives: today is the last day",
        "Apiary 1, 3 hives: late by 1 day, since 9 Sep 2026",
    ]


def test_an_alarm_keeps_its_name_when_time_passes_and_none_lies_behind(phone):
    """The system moves an alarm that it knows; what has rung is not armed again."""
    strips_in(phone)
    before = {alarm.name: alarm.at for alarm in about_strips(phone)}
    phone.time.pass_(50 * DAY)
    after = {alarm.name: alarm.at for alarm in about_strips(phone)}
    assert after == {name: at for name, at in before.items() if not name.endswith("|due")}
    assert len(after) == 2


def test_a_morning_that_is_over_is_not_armed(phone):
    """At nine on the last day seven o'clock is past; the next reminder is the one for late."""
    strips_in(phone)
    phone.time.pass_(70 * DAY)
    alarms = about_strips(phone)
    assert alarms
    assert {f"{alarm.at:%d %b %H:%M}" for alarm in alarms} == {"10 Sep 07:00"}


def test_what_is_late_rings_on_the_morrow(phone):
    """The program was opened today: the next reminder is tomorrow's."""
    strips_in(phone)
    phone.time.pass_(75 * DAY)
    alarms = about_strips(phone)
    assert alarms
    for alarm in alarms:
        assert f"{alarm.at:%d %b %H:%M}" == "15 Sep 07:00"
        assert "late by 6 days" in alarm.text


def test_what_is_done_is_armed_no_more(phone):
    """Strips that are out ring nobody."""
    strips_in(phone)
    for hive in phone.hives():
        out = {"did": "out", "count": 2, "treatment": AMITRAZ}
        apiary = phone.notebook.local.get("apiary")
        phone.write("pieces", out, hive=hive, apiary=apiary)
    phone.notebook.book.refresh()
    assert about_strips(phone) == []


def test_a_machine_without_alarms_is_not_asked(phone):
    """On a desktop the program reminds while it runs."""
    phone.set_up(3)
    assert not phone.kit.devices.alarms.there
    assert not phone.kit.alarms.arm()
