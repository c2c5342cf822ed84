"""Alarms: reminders that the system rings while the program is closed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple, Protocol


class Alarm(NamedTuple):
    """One reminder: what makes it that one, the local time at which it rings, and its words.

    `at` is to the second and without a zone: seven in the morning is seven in the morning
    wherever the phone is.
    """

    name: str
    at: datetime
    title: str
    text: str


class Alarms(Protocol):
    """Rings reminders later. `there` is false where the system rings nothing."""

    there: bool

    def replace(self, alarms: Sequence[Alarm]) -> bool:
        """Arm these and no others; return whether the system took them."""


class NoAlarms:
    """A machine that rings nothing while the program is closed."""

    there = False

    def replace(self, alarms: Sequence[Alarm]) -> bool:
        """Do nothing."""
        del alarms
        return False
