"""The pen of random histories: writes records from two phones, in zones and on odd days."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, date, datetime, timedelta
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

from record_maker import RecordMaker, made_id

from fieldapp.journal.record import Record

ZONES = {
    "Europe/London": 54.0,
    "Europe/Berlin": 50.0,
    "America/New_York": 42.0,
    "Australia/Sydney": -33.5,
}
_CLOCKS = ("00:00:00", "00:00:30", "01:30:00", "02:30:00", "09:00:00", "23:59:59")


class Pen(RecordMaker):
    """A record maker with two phones, of which one's clock is wrong.

    `seen` counts the situations that went into the history.
    """

    def __init__(self, chance: Random) -> None:
        super().__init__(zone=chance.choice(list(ZONES)))
        self.chance = chance
        self.seen: Counter[str] = Counter()
        self.aliases: dict[str, list[str]] = {}
        self._skews = (0, chance.choice([0, 660_000, -7_200_000, 3 * 365 * 86_400_000]))
        self._used: set[int] = set()

    def new_id(self) -> str:
        """Return a fresh id whose order has nothing to do with time."""
        while (number := self.chance.randrange(1, 2**31)) in self._used:
            pass
        self._used.add(number)
        return made_id(number)

    def happened(self, day: date, clock: str | None = None) -> str:
        """Return a moment on `day`, now and then by a phone that stands in another zone."""
        zone = self.zone
        if self.chance.random() < 0.05:
            zone = self.chance.choice(list(ZONES))
            self.seen["another zone"] += 1
        if clock is None:
            seconds = self.chance.randrange(6 * 3600, 21 * 3600)
            clock = f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
            if self.chance.random() < 0.1:
                clock = self.chance.choice(_CLOCKS)
        local = datetime.fromisoformat(f"{day}T{clock}").replace(
            tzinfo=ZoneInfo(zone), fold=self.chance.randrange(2)
        )
        local = local.astimezone(UTC).astimezone(ZoneInfo(zone))
        self._count_day(local)
        return f"{local.isoformat()}[{zone}]"

    def _count_day(self, local: datetime) -> None:
        day = local.date()
        if (day.month, day.day) == (2, 29):
            self.seen["29 February"] += 1
        if (day.month, day.day) in ((12, 31), (1, 1)):
            self.seen["year end"] += 1
        midnight = local.replace(hour=0, fold=0)
        if midnight.utcoffset() != (midnight + timedelta(1)).utcoffset():
            self.seen["clocks changed"] += 1

    def write(
        self,
        kind: str,
        day: date,
        hive: str | None = None,
        *,
        clock: str | None = None,
        **other: Any,
    ) -> Record:
        """Write one record as one of the phones would, under one of the hive's ids."""
        at = self.happened(day, clock)
        if hive in self.aliases and self.chance.random() < 0.5:
            hive = self.chance.choice(self.aliases[hive])
        self.seen[kind] += 1
        return self.add(kind, "", hive, at=at, stamp=self.stamp(at), **other)

    def stamp(self, at: str) -> str:
        """Return a stamp of one of the phones, some time after `at`; take up its pen."""
        phone = self.chance.randrange(2)
        self.writer = f"{phone + 1:032x}"
        since = datetime.fromisoformat(at.partition("[")[0]) - datetime(1970, 1, 1, tzinfo=UTC)
        late = self.chance.choice([0, 5_000, 86_400_000])
        ms = since // timedelta(milliseconds=1) + self._skews[phone] + late
        return f"{ms:012x}{self.chance.randrange(4):04x}"
