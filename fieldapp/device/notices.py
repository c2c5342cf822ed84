"""Notifications of the system, for reminders while the app runs."""

from __future__ import annotations

import logging
import os
import shutil
import warnings
from typing import Protocol

log = logging.getLogger(__name__)


class Notices(Protocol):
    """Raises a notification. `there` is false where the system shows none."""

    there: bool

    def show(self, title: str, text: str) -> bool:
        """Show it; return whether the system took it."""


class NoNotices:
    """A machine that shows no notifications."""

    there = False

    def show(self, title: str, text: str) -> bool:
        """Do nothing."""
        del title, text
        return False


class PlyerNotices:
    """Notifications through plyer."""

    def __init__(self, app_name: str = "Apiary Rounds") -> None:
        self.there = True
        self._app_name = app_name

    def show(self, title: str, text: str) -> bool:
        """Show it; a system that refuses is asked again with the next one."""
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")  # plyer warns about ways that it did not take
                from plyer import notification  # noqa: PLC0415  (loaded when first used)

                notification.notify(title=title, message=text, app_name=self._app_name)
        except Exception as error:
            log.info("no notification: %s", error)
            return False
        return True


def desktop_notices() -> Notices:
    """Return notifications if this desktop has a bus to take them and a program that sends."""
    has_bus = "DBUS_SESSION_BUS_ADDRESS" in os.environ or os.path.exists(  # noqa: PTH110
        f"/run/user/{os.getuid()}/bus"
    )
    return PlyerNotices() if has_bus and shutil.which("notify-send") else NoNotices()
