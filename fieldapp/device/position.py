"""Where the phone is. A position is never waited for; it comes when it comes.

On a desktop there is no receiver: there the position can be given on the command line, for
trying out and for the demo. On Android plyer's gps gives the fixes.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Any, NamedTuple, Protocol

log = logging.getLogger(__name__)


class Fix(NamedTuple):
    """A position: degrees WGS 84, metres of accuracy if stated, monotonic seconds it was had."""

    lat: float
    lon: float
    accuracy: float | None
    at: float


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


class PlyerPosition:
    """Fixes from plyer's gps. `monotonic` returns seconds."""

    def __init__(self, monotonic: Callable[[], float]) -> None:
        self.state = "off"
        self._monotonic = monotonic
        self._on_fix: OnFix | None = None
        self._configured = False

    def start(self, on_fix: OnFix) -> None:
        """Ask for fixes; a refusal or a missing receiver becomes a state, not an error."""
        self._on_fix = on_fix
        try:
            from plyer import gps  # noqa: PLC0415  (plyer is loaded when first used)

            if not self._configured:
                gps.configure(on_location=self._location, on_status=self._status)
                self._configured = True
            gps.start(minTime=2000, minDistance=0)
        except (NotImplementedError, ModuleNotFoundError):
            self.state = "none"
        except Exception as error:
            log.info("no position: %s", error)
            self.state = "refused"
        else:
            self.state = "waiting"

    def stop(self) -> None:
        """End; nothing happens where it never began."""
        if self.state not in ("waiting", "there"):
            return
        self.state = "off"
        from plyer import gps  # noqa: PLC0415

        try:
            gps.stop()
        except Exception as error:
            log.info("position did not stop: %s", error)

    def _location(self, **values: Any) -> None:
        try:
            accuracy = values.get("accuracy")
            fix = Fix(
                float(values["lat"]),
                float(values["lon"]),
                float(accuracy) if accuracy is not None else None,
                self._monotonic(),
            )
        except (KeyError, TypeError, ValueError):
            log.info("a position without its figures was left out: %r", sorted(values))
            return
        self.state = "there"
        if self._on_fix is not None:
            self._on_fix(fix)

    def _status(self, kind: str, status: str) -> None:
        if kind == "provider-disabled":
            self.state = "refused"
        log.debug("position: %s %s", kind, status)
