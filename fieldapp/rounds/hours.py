"""When reminders may come: the hour of the morning's, and hours in which none does."""

from __future__ import annotations

from datetime import time
from typing import NamedTuple

from fieldapp.rounds.local import Local

#: Names under which the phone keeps the keeper's hours, 0 to 23; no quiet hour, no quiet.
MORNING, QUIET_FROM, QUIET_TO = "morning hour", "quiet from", "quiet to"
_MORNING, _QUIET_TO = 7, 7


class Hours(NamedTuple):
    """`morning` is when the day's reminders ring; from `quiet_from` to `quiet_to` none does."""

    morning: int = _MORNING
    quiet_from: int | None = None
    quiet_to: int = _QUIET_TO

    @classmethod
    def kept(cls, local: Local) -> Hours:
        """Return the keeper's hours, or those of a phone on which none were set."""
        return cls(
            int(local.get(MORNING, _MORNING)),
            local.get(QUIET_FROM),
            int(local.get(QUIET_TO, _QUIET_TO)),
        )

    def quiet(self, hour: int) -> bool:
        """Return whether no reminder comes in this hour of the day."""
        first, end = self.quiet_from, self.quiet_to
        if first is None or first == end:
            return False
        return first <= hour < end if first < end else hour >= first or hour < end

    @property
    def rings(self) -> time:
        """When the day's reminders ring: in quiet hours, as soon as they are over."""
        return time(self.quiet_to if self.quiet(self.morning) else self.morning)
