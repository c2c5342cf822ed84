"""Where the phone is. A position is never waited for; it comes when it comes.

On a desktop there is no receiver: there the position can be given on the command line, for
trying out and for the demo. On Android the phone's receivers give the fixes.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, Protocol


class Fix(NamedTuple):
    """A position: degrees WGS 84, metres of accuracy if stated, monotonic seconds it was had.

    `utc_ms` is the satellites' time at that moment, in milliseconds since 1970; None where the
    source has only the phone's own clock to tell it by.
    """

    lat: float
    lon: float
    accuracy: float | None
    at: float
    utc_ms: int | None = None


OnFix = Callable[[Fix], None]


class Position(Protocol):
    """A source of fixes. `state` is ``off``, ``waiting``, ``there``, ``refused``, ``none``."""

    state: str

    def start(self, on_fix: OnFix) -> None:
        """Begin; `on_fix` is called for each fix, perhaps on another thread."""

    def stop(self) -> None:
        """End, to save the battery."""


class NoPosition:
    """A machine without a receiver."""

    state = "none"

    def start(self, on_fix: OnFix) -> None:
        """Do nothing: there is no receiver."""

    def stop(self) -> None:
        """Do nothing."""


class GivenPosition:
    """A position given by hand, for a computer without a receiver: one fix at each start."""

    def __init__(self, lat: float, lon: float, monotonic: Callable[[], float]) -> None:
        self.state = "off"
        self._lat, self._lon = lat, lon
        self._monotonic = monotonic

    def start(self, on_fix: OnFix) -> None:
        """Give the position at once, without an accuracy: nobody measured one."""
        self.state = "there"
        on_fix(Fix(self._lat, self._lon, None, self._monotonic()))

    def stop(self) -> None:
        """End."""
        self.state = "off"
