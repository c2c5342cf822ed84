"""Shakes that answer a tap or call out an end, where the phone has a motor."""

from __future__ import annotations

import logging
from typing import Protocol

log = logging.getLogger(__name__)


class Vibration(Protocol):
    """Answers a tap."""

    there: bool

    def tap(self) -> None:
        """Shake once, shortly."""

    def undo(self) -> None:
        """Shake twice: something was taken back."""

    def over(self) -> None:
        """Shake long, three times: a time is over, wherever the phone is."""


class NoVibration:
    """A machine without a motor."""

    there = False

    def tap(self) -> None:
        """Do nothing."""

    def undo(self) -> None:
        """Do nothing."""

    def over(self) -> None:
        """Do nothing."""


class PlyerVibration:
    """The phone's motor through plyer; gone for good after the first refusal."""

    def __init__(self) -> None:
        self.there = True

    def tap(self) -> None:
        """Shake for 60 ms."""
        self._call("vibrate", time=0.06)

    def undo(self) -> None:
        """Shake twice."""
        self._call("pattern", pattern=(0, 0.05, 0.1, 0.05))

    def over(self) -> None:
        """Shake for half a second, three times."""
        self._call("pattern", pattern=(0, 0.5, 0.3, 0.5, 0.3, 0.5))

    def _call(self, name: str, **values: object) -> None:
        if not self.there:
            return
        try:
            from plyer import vibrator  # noqa: PLC0415  (plyer is loaded when first used)

            getattr(vibrator, name)(**values)
        except Exception as error:
            log.info("no vibration: %s", error)
            self.there = False
