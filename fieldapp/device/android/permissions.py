"""What the keeper allows the program. The system is asked once a run, for all of it together.

Two questions at one time would cancel each other, and a question brings the program to the
front again when it is answered: one that asked each time would never come to rest.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

FINE = "android.permission.ACCESS_FINE_LOCATION"
COARSE = "android.permission.ACCESS_COARSE_LOCATION"
NOTIFY = "android.permission.POST_NOTIFICATIONS"
#: The first API level at which notifications want a permission.
NOTIFY_SINCE = 33


class Permissions:
    """Asks for positions (fine and coarse; the keeper may allow coarse alone) and notifications."""

    def __init__(self, sdk: int) -> None:
        self._wanted = [FINE, COARSE] + ([NOTIFY] if sdk >= NOTIFY_SINCE else [])
        self._asked = False

    def position(self) -> bool:
        """Return whether positions are allowed, be it roughly."""
        from android.permissions import check_permission  # noqa: PLC0415  (only on a phone)

        return bool(check_permission(FINE) or check_permission(COARSE))

    def ask(self, answered: Callable[[], None]) -> bool:
        """Ask, unless this run has asked; return whether an answer is on its way.

        `answered` is called on another thread.
        """
        if self._asked:
            return False
        self._asked = True
        from android.permissions import request_permissions  # noqa: PLC0415

        def answer(_names: list[Any], _granted: list[Any]) -> None:
            answered()

        request_permissions(self._wanted, answer)
        return True
