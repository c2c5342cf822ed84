"""Timers of hives: over a closed program, a sleeping phone, a clock put back, a restart."""

from __future__ import annotations

from datetime import datetime

import pytest

from fieldapp.rounds.alarms import Alarms
from fieldapp.rounds.beginning import under_way
from fieldapp.rounds.clock import Clock, system_clock
from fieldapp.rounds.otherwise import Otherwise
from fieldapp.rounds.timers import NO_TIME, TOLD_S, Timers, Times
from fieldapp.words import Speech

SUBLIMED = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/sublimation"
AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
TIMES = Times(150, 600)
SPEAK = Speech()


@pytest.fixture
def vapour(phone):
    """A round of vapour at three hives: 2:30 of vapour, then ten minutes closed."""
    phone.set_up(3)
    start = phone.start(SUBLIMED)
    start.take_times(TIMES)
    phone.round = start.begin()
    return phone


def shown(phone):
    return [(each.left, SPEAK(each.words)) for each in phone.kit.timers.running()]


def called(phone):
    return [SPEAK(words) for words in phone.kit.timers.call()]


def test_two_hives_run_at_once_and_each_end_is_called_once(vapour):
    """Vapour over, then open; the hive that ends first stands first."""
    one, two, _ = vapour.hives()
    vapour.round.tap(one)
    vapour.time.pass_(100)
    vapour.round.tap(two)
    assert shown(vapour) == [(50, "Hive 1: runs 0:50"), (150, "Hive 2: runs 2:30")]
    vapour.time.pass_(50)
    assert called(vapour) == ["Hive 1: vapour over, keep it closed"]
    assert called(vapour) == []
    assert shown(vapour) == [(100, "Hive 2: runs 1:40"), (600, "Hive 1: closed 10:00")]
    vapour.time.pass_(600)
    assert called(vapour) == [
        "Hive 1: time over, open the entrance",
        "Hive 2: vapour over, keep it closed",
    ]
    assert shown(vapour)[0] == (0, "Hive 1: time over, open the entrance")


def test_the_tap_says_how_long_it_runs(vapour):
    """Until it is cut short, as the dose does."""
    one = vapour.hives()[0]
    vapour.round.tap(one)
    assert vapour.records("application")[0].body["seconds"] == 150


def test_cut_short_is_a_part_dose_over_the_seconds_that_it_ran(vapour):
    """Its timer is gone, and the course counts no whole application."""
    one, two, _ = vapour.hives()
    vapour.round.tap(one)
    vapour.time.pass_(40)
    vapour.round.tap(two)
    vapour.time.pass_(20)
    Otherwise(vapour.round, one).cut_short()
    held = vapour.round.spot(one).record.body
    assert (held["part"], held["seconds"]) == (True, 60)
    assert vapour.round.timer(one) is None
    assert vapour.round.timer(two) is not None
    (course,) = vapour.book.hive(one).courses
    assert course.k == 0


def test_opened_early_is_a_part_dose_over_all_the_vapour(vapour):
    """The vapour ran whole; the entrance was opened before its time."""
    one = vapour.hives()[0]
    vapour.round.tap(one)
    vapour.time.pass_(400)
    Otherwise(vapour.round, one).cut_short()
    held = vapour.round.spot(one).record.body
    assert (held["part"], held["seconds"]) == (True, 150)


@pytest.mark.parametrize("way", ["undo", "skip"])
def test_what_was_not_done_runs_no_timer(vapour, way):
    """Taken back, or not done after all."""
    one = vapour.hives()[0]
    vapour.round.tap(one)
    vapour.round.undo() if way == "undo" else vapour.round.skip(one, "too weak")
    assert shown(vapour) == []
    assert vapour.round.timer(one) is None


def test_a_timer_goes_on_while_the_program_is_closed(vapour):
    """Killed after the tap, open again a minute later: what is left is what is left."""
    one = vapour.hives()[0]
    vapour.round.tap(one)
    vapour.time.pass_(60)
    again = under_way(vapour.notebook)
    assert again.timer(one) is not None
    timers = Timers(vapour.notebook.local, vapour.notebook.clock)
    assert [each.left for each in timers.running()] == [90]


@pytest.mark.parametrize(
    ("wall", "monotonic", "left"),
    [
        (60, 60, 90),  # both agree
        (-3600, 60, 90),  # the wall clock was put back
        (60, -400, 90),  # the phone was started anew: its seconds began anew
        (60, 0, 90),  # a monotonic clock that stood still while the phone slept
        (-3600, -400, 150),  # put back and started anew: nothing can be told, it begins anew
    ],
)
def test_how_far_it_is_by_either_clock(vapour, wall, monotonic, left):
    """Neither a clock put back nor a restart keeps a colony shut in."""
    vapour.round.tap(vapour.hives()[0])
    vapour.time.us += wall * 1_000_000
    vapour.time.seconds += monotonic
    assert [each.left for each in vapour.kit.timers.running()] == [left]


def test_of_two_ends_that_nobody_heard_the_last_is_called(vapour):
    """Closed for a quarter of an hour: what is to be done now, and once."""
    vapour.round.tap(vapour.hives()[0])
    vapour.time.pass_(800)
    assert called(vapour) == ["Hive 1: time over, open the entrance"]
    assert called(vapour) == []


def test_what_is_over_stands_until_the_next_tap_or_a_quarter_of_an_hour(vapour):
    """The keeper's next tap says that it was heard."""
    one, two, three = vapour.hives()
    vapour.round.tap(one)
    vapour.time.pass_(750)
    called(vapour)
    assert [each.left for each in vapour.kit.timers.running()] == [0]
    vapour.round.tap(two)
    assert [each.number for each in vapour.kit.timers.running()] == ["2"]
    vapour.time.pass_(750 + TOLD_S + 1)
    called(vapour)
    assert not vapour.kit.timers.any
    assert three


def test_the_keepers_own_times_are_kept_for_the_next_round(vapour):
    """No library has them; what this keeper said stands there the next time."""
    again = vapour.start(SUBLIMED)
    assert again.times == NO_TIME
    again.use_last()
    assert again.times == TIMES
    assert SPEAK(again.times.words) == "runs 2:30, then closed 10:00"


def test_what_takes_no_time_has_no_timer(vapour):
    """Strips: nothing runs, nothing is asked."""
    start = vapour.start(AMITRAZ)
    assert not start.takes_time
    start.begin().tap(vapour.hives()[0])
    assert shown(vapour) == []


class System:
    """A phone that takes what is armed."""

    there = True

    def replace(self, alarms) -> bool:
        self.armed = list(alarms)
        return True


def test_while_the_program_is_aside_the_system_rings_at_the_second(vapour):
    """Both ends of each hive, nearest first; in front nothing is armed for them."""
    one, two, _ = vapour.hives()
    vapour.round.tap(one)
    vapour.time.pass_(200)
    vapour.round.tap(two)
    system = System()
    alarms = Alarms(vapour.notebook, system, SPEAK, vapour.kit.timers)
    alarms.arm(aside=True)
    timed = [alarm for alarm in system.armed if alarm.name.startswith("timer|")]
    assert [(alarm.at, alarm.title) for alarm in timed] == [
        (datetime(2026, 7, 1, 9, 5, 50), "Hive 2: vapour over, keep it closed"),
        (datetime(2026, 7, 1, 9, 12, 30), "Hive 1: time over, open the entrance"),
        (datetime(2026, 7, 1, 9, 15, 50), "Hive 2: time over, open the entrance"),
    ]
    assert {alarm.text for alarm in timed} == {"Round at Apiary 1"}
    assert len({alarm.name for alarm in timed}) == 3
    alarms.arm()
    assert not [alarm for alarm in system.armed if alarm.name.startswith("timer|")]


def test_the_machines_seconds_never_go_back():
    """The clock that counts sleep, where the system has one."""
    clock = system_clock()
    assert isinstance(clock, Clock)
    first = clock.monotonic()
    assert 0 <= clock.monotonic() - first < 5
