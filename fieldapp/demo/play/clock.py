"""The demo's clock: it begins on the demo's today and goes on from there."""

from __future__ import annotations

import time
from datetime import datetime
from zoneinfo import ZoneInfo

from fieldapp.demo.season import TODAY, ZONE
from fieldapp.rounds.clock import Clock

MORNING = datetime(TODAY.year, TODAY.month, TODAY.day, 8, 30, tzinfo=ZoneInfo(ZONE))
"""When the keeper opens the app on the demo's today."""


class Pace:
    """Time that passes by itself, and faster where the play says so."""

    def __init__(self) -> None:
        self._began = time.monotonic()
        self._ahead = 0.0

    def wait(self, seconds: float) -> None:
        """Let `seconds` pass at once, as they would between two hives."""
        self._ahead += seconds

    def monotonic(self) -> float:
        """Return seconds that never go back."""
        return time.monotonic() + self._ahead

    def now_us(self) -> int:
        """Return microseconds since 1970 on the demo's today."""
        since = time.monotonic() - self._began + self._ahead
        return int((MORNING.timestamp() + since) * 1_000_000)

    def clock(self) -> Clock:
        """Return it as the app's clock."""
        return Clock(self.now_us, self.monotonic)
