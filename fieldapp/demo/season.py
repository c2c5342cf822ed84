"""The demo season: one year in the order in which it happened, and when the phones met.

The same seed gives the same year to the last byte. What makes it up is invented.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from fieldapp.demo.abroad import germany, united_states
from fieldapp.demo.scene import Entry
from fieldapp.demo.upland import autumn, late_summer, spring, summer, winter
from fieldapp.demo.upland.cast import (
    FIRST_DAY,
    HELPERS_PHONE,
    KEEPERS_PHONE,
    OFFLINE_FROM,
    TODAY,
    ZONE,
    cast,
)
from fieldapp.husbandry.library import Library

SEED = 20260919

__all__ = ["HELPERS_PHONE", "KEEPERS_PHONE", "SEED", "TODAY", "ZONE", "Season", "season"]


class Season(NamedTuple):
    """A year of one operation: what was written on which phone, oldest first.

    `meetings` are the moments (microseconds UTC) at which all phones had just synced.
    """

    country: str
    zone: str
    today: date
    entries: tuple[Entry, ...]
    meetings: tuple[int, ...]


def season(library: Library, seed: int = SEED) -> Season:
    """Return the demo year in the upland: 24 hives in three apiaries, two phones."""
    made = cast(seed, library)
    autumn.settle_in(made)
    autumn.autumn(made)
    winter.winter(made)
    spring.spring(made)
    summer.summer(made)
    late_summer.late_summer(made)
    return Season("GB", ZONE, TODAY, in_order(made.scene.entries), _weekly_meetings())


def abroad(library: Library, seed: int = SEED) -> tuple[Season, Season]:
    """Return the years of the second and third operation, in Germany and in the US."""
    return (
        Season("DE", "Europe/Berlin", TODAY, in_order(germany(seed, library).entries), ()),
        Season("US", "America/Denver", TODAY, in_order(united_states(seed, library).entries), ()),
    )


def in_order(entries: list[Entry]) -> tuple[Entry, ...]:
    """Return the entries by the true time at which they were written."""
    return tuple(sorted(entries, key=lambda entry: entry.at))


def _weekly_meetings() -> tuple[int, ...]:
    """Return Sunday evenings as far as the last before the helper's phone went offline."""
    zone = ZoneInfo(ZONE)
    evenings = []
    day = FIRST_DAY + timedelta(days=1)
    while day < OFFLINE_FROM:
        evening = datetime(day.year, day.month, day.day, 21, 30, tzinfo=zone)
        evenings.append(int(evening.timestamp()) * 1_000_000)
        day += timedelta(days=7)
    last = datetime.combine(OFFLINE_FROM, datetime.min.time(), tzinfo=zone)
    evenings.append(int(last.timestamp()) * 1_000_000)
    return tuple(evenings)
