"""The phone's clock held to the satellites' time, which comes along with a position."""

from __future__ import annotations

from typing import Final

from fieldapp.device.position import Fix
from fieldapp.rounds.notebook import Notebook

#: Seconds between two looks: fixes come every other second, and each look reads the journal.
EVERY_S: Final = 60.0
#: 2026-01-01T00:00Z in milliseconds, before the first record of this program. A receiver that
#: does not know that the satellites' count of 1,024 weeks began anew tells a time 19.6 years back
#: (week numbers of ten bits, IS-GPS-200; from memory).
FIRST_MS: Final = 1_767_225_600_000


class SatelliteTime:
    """Tells the question of the clock how far this phone's is off. Called on the main thread."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self._looked: float | None = None

    def fix(self, fix: Fix) -> None:
        """Take a fix; one without the satellites' time says nothing of the clock."""
        if fix.utc_ms is None or fix.utc_ms < FIRST_MS:
            return
        clock = self._notebook.clock
        now = clock.monotonic()
        if self._looked is not None and now - self._looked < EVERY_S:
            return
        self._looked = now
        # A last known fix may be hours old; its age is told by a clock that nobody sets.
        satellites_ms = fix.utc_ms + round((now - fix.at) * 1000)
        from fieldapp.rounds.clock_question import ClockQuestion  # noqa: PLC0415  (at first need)

        ahead_ms = clock.now_us() // 1000 - satellites_ms
        ClockQuestion(self._notebook).heard(ahead_ms, by="satellites")
