"""Notifications reach the desktop's own bus; without one the program is quiet."""

from __future__ import annotations

from notification_bus import notification_bus

from fieldapp.device.notices import NoNotices, PlyerNotices, desktop_notices


def test_a_notification_arrives_on_the_bus_with_its_words(tmp_path):
    """What is shown is what was said: title, text, and whose it is."""
    with notification_bus(tmp_path) as bus:
        assert PlyerNotices().show("Strips out", "Quarry Top, 6 hives: by 14 Jun 2026")
        (taken,) = bus.wait(1)
    assert taken["title"] == "Strips out"
    assert taken["text"] == "Quarry Top, 6 hives: by 14 Jun 2026"
    assert taken["app"] == "Apiary Rounds"


def test_a_desktop_without_a_bus_has_no_notices(monkeypatch):
    """Nothing to show on is a state, not an error."""
    monkeypatch.setenv("DBUS_SESSION_BUS_ADDRESS", "")
    monkeypatch.delenv("DBUS_SESSION_BUS_ADDRESS")
    monkeypatch.setattr("os.getuid", lambda: 987_654)
    notices = desktop_notices()
    assert isinstance(notices, NoNotices)
    assert not notices.there
    assert not notices.show("Due", "something")
