"""Positions follow the taps as annexes; no tap waits for one."""

from __future__ import annotations

import pytest

from fieldapp.device.position import Fix
from fieldapp.journal.annexes import annexes, position

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"


@pytest.fixture
def round_(phone):
    phone.set_up(3)
    return phone.start(AMITRAZ).begin()


def fix(phone, accuracy=None, lat=54.2, ago=0.0):
    return Fix(lat, -2.3, accuracy, phone.time.seconds - ago)


def test_a_fix_that_comes_after_the_tap_follows_it(phone, round_):
    """With its accuracy and the seconds since the tap."""
    round_.tap(round_.next.hive)
    assert phone.records("position") == []
    phone.time.pass_(12)
    phone.kit.positions.fix(fix(phone, 8.0))
    (annex,) = phone.records("position")
    assert annex.adds_to == phone.records("application")[0].id
    assert annex.body == {"lat": 54.2, "lon": -2.3, "accuracy": 8.0, "after_s": 12.0}


def test_a_fix_from_shortly_before_is_added_at_once(phone, round_):
    """Its seconds are negative: it was had before the tap."""
    phone.kit.positions.fix(fix(phone, 5.0))
    phone.time.pass_(30)
    round_.tap(round_.next.hive)
    (annex,) = phone.records("position")
    assert annex.body["after_s"] == -30.0


def test_an_old_fix_says_nothing_about_a_tap(phone, round_):
    """Over two minutes away the keeper may have walked on."""
    phone.kit.positions.fix(fix(phone, 5.0))
    phone.time.pass_(121)
    round_.tap(round_.next.hive)
    phone.time.pass_(121)
    phone.kit.positions.fix(fix(phone, 5.0))
    assert phone.records("position") == []


def test_only_a_much_better_fix_is_added_after_the_first(phone, round_):
    """The journal does not fill with fixes; the best one holds."""
    round_.tap(round_.next.hive)
    for accuracy in (40.0, 35.0, 30.0, 9.0, 8.0):
        phone.time.pass_(2)
        phone.kit.positions.fix(fix(phone, accuracy))
    added = phone.records("position")
    assert [annex.body["accuracy"] for annex in added] == [40.0, 9.0]
    tap = phone.records("application")[0].id
    assert position(annexes(added)[tap]).body["accuracy"] == 9.0


def test_a_fix_belongs_to_what_was_done_where_it_happened(phone):
    """Setting up an apiary at home gets no position."""
    phone.set_up(2)
    phone.kit.positions.fix(fix(phone, 5.0))
    assert phone.records("position") == []
