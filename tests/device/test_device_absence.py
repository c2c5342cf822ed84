"""What this machine does not have is absent quietly."""

from __future__ import annotations

from fieldapp.device.devices import desktop_devices
from fieldapp.device.position import Fix, GivenPosition, NoPosition
from fieldapp.device.vibration import PlyerVibration
from fieldapp.device.zone import system_zone


def test_a_desktop_has_devices_that_can_all_be_used():
    """Every device answers, whether it is there or not."""
    devices = desktop_devices()
    devices.position.start(lambda fix: None)
    devices.vibration.tap()
    devices.vibration.undo()
    devices.position.stop()
    assert devices.position.state == "none"
    assert not devices.vibration.there


def test_plyer_without_a_motor_is_asked_once():
    """A motor that is not there is not asked at every tap."""
    vibration = PlyerVibration()
    assert vibration.there
    vibration.tap()
    assert not vibration.there


def test_a_given_position_is_one_fix_a_start():
    """On a computer the keeper says where it stands."""
    fixes: list[Fix] = []
    GivenPosition(54.2, -2.3, lambda: 1.0).start(fixes.append)
    assert fixes == [Fix(54.2, -2.3, None, 1.0)]
    NoPosition().start(fixes.append)
    assert len(fixes) == 1


def test_the_zone_is_one_that_exists(monkeypatch):
    """A zone that nobody knows is passed over; there is always an answer."""
    monkeypatch.setenv("TZ", ":Europe/London")
    assert system_zone() == "Europe/London"
    monkeypatch.setenv("TZ", "Nowhere/At_All")
    assert system_zone() != "Nowhere/At_All"
