"""The server's clock: the machine's, or one that goes on from another moment."""

from __future__ import annotations

import time
from datetime import date, datetime
from typing import NamedTuple, Self


class Clock(NamedTuple):
    """Tells the time, `ahead_ms` milliseconds ahead of the machine's clock."""

    ahead_ms: int = 0

    @classmethod
    def begun_at(cls, moment: datetime) -> Self:
        """Return a clock that shows `moment` now, and goes on from there."""
        return cls(int(moment.timestamp() * 1000) - _machine_ms())

    def ms(self) -> int:
        """Return whole milliseconds since 1970, UTC."""
        return _machine_ms() + self.ahead_ms

    def seconds(self) -> int:
        """Return whole seconds since 1970, UTC."""
        return self.ms() // 1000

    def today(self) -> date:
        """Return the civil date at home, which the pages show."""
        return datetime.fromtimestamp(self.seconds()).astimezone().date()


def _machine_ms() -> int:
    return time.time_ns() // 1_000_000
