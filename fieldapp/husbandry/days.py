"""Civil days as whole numbers, and the order in which records count.

Rules work in the civil date that stands in ``happened``. Inside the engine a day is its
proleptic ordinal (`datetime.date.toordinal`), so that days add and compare as numbers.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date

from fieldapp.journal.record import Record

#: Order of a record among the others: day, instant in microseconds UTC, stamp, id.
Key = tuple[int, int, str, str]

#: Before and after every record of a day.
FIRST_OF_DAY = -(10**18)
LAST_OF_DAY = 10**18

_DAYS: dict[str, int] = {}
_OFFSETS: dict[str, int] = {"Z": 0}
_SECONDS: dict[str, int] = {}
_EPOCH = date(1970, 1, 1).toordinal()


def ordinal(text: str) -> int:
    """Return the day of a text that begins with a civil date, ``2026-07-04``."""
    text = text[:10]
    day = _DAYS.get(text)
    if day is None:
        day = _DAYS[text] = date.fromisoformat(text).toordinal()
    return day


def as_date(day: int) -> date:
    """Return the date of a day number."""
    return date.fromordinal(day)


def as_date_or_none(day: int | None) -> date | None:
    """Return the date of a day number, None for None."""
    return None if day is None else date.fromordinal(day)


def _offset(text: str) -> int:
    sign = -1 if text[0] == "-" else 1
    parts = text[1:].split(":")
    seconds = sum(int(part) * unit for part, unit in zip(parts, (3600, 60, 1), strict=False))
    return sign * seconds


def order_key(happened: str, stamp: str, root: str) -> Key:
    """Return the place of a record among the others: civil date first, then the instant.

    `stamp` and `root` are those of the root record, also where a correction holds.
    """
    day = ordinal(happened)
    clock = happened[11:19]
    seconds = _SECONDS.get(clock)
    if seconds is None:
        hours, minutes, rest = clock.split(":")
        seconds = _SECONDS[clock] = int(hours) * 3600 + int(minutes) * 60 + int(rest)
    tail = happened[19 : happened.index("[", 19)]
    micros = 0
    if tail[0] == ".":
        end = next(place for place, sign in enumerate(tail) if sign in "+-Zz")
        micros = int(tail[1:end].ljust(6, "0")[:6])
        tail = tail[end:]
    offset = _OFFSETS.get(tail)
    if offset is None:
        offset = _OFFSETS[tail] = _offset(tail)
    instant = ((day - _EPOCH) * 86400 + seconds - offset) * 1_000_000 + micros
    return (day, instant, stamp, root)


def record_key(record: Record) -> Key:
    """Return the place of a root record that holds itself."""
    return order_key(record.happened, record.stamp, record.id)


def add_months(day: int, months: int) -> int:
    """Return the day so many calendar months later, clamped to the last day of the month."""
    start = date.fromordinal(day)
    count = start.year * 12 + start.month - 1 + months
    year, month = divmod(count, 12)
    return date(year, month + 1, min(start.day, monthrange(year, month + 1)[1])).toordinal()


def year_of(day: int) -> int:
    """Return the calendar year of a day."""
    return date.fromordinal(day).year


def season_of(day: int, south: bool) -> int:
    """Return the season of a day: it begins on 1 January, south of the equator on 1 July."""
    when = date.fromordinal(day)
    return when.year + (1 if south and when.month >= 7 else 0)


def season_end(day: int, south: bool) -> int:
    """Return the last day of the season in which `day` lies."""
    season = season_of(day, south)
    return (date(season, 6, 30) if south else date(season, 12, 31)).toordinal()
