"""When something happened: a moment in the zone of its apiary, and its civil date.

The form is RFC 9557, ``2026-07-04T23:50:10+01:00[Europe/London]``. The civil date is what
stands in the first ten characters and is never recomputed: rules count days as the keeper
saw them, whatever a later time zone database or a later zone of the apiary says.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.journal.record import Record

EXPECTED = say("a moment as {example}", example="2026-07-04T23:50:10+01:00[Europe/London]")

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)
# Hours and minutes are checked here: later Pythons take 24:00 too, and old journals must be
# read alike by all.
_HM = r"(?:[01]\d|2[0-3]):[0-5]\d"
FORM = re.compile(
    rf"\d{{4}}-\d\d-\d\dT{_HM}:[0-5]\d(?:\.\d{{1,9}})?(?!-00:00)[+-]{_HM}"
    r"\[[A-Za-z][A-Za-z0-9_+./-]{0,59}\]",
    re.ASCII,
)


def understood(text: object) -> bool:
    """Return whether `text` is a moment in this form. ``Z``, or no zone, is not."""
    return type(text) is str and FORM.fullmatch(text) is not None and is_moment(text)


def is_moment(text: str) -> bool:
    """Return whether a text that has this form is a real day, hour and offset."""
    try:
        datetime.fromisoformat(text[: text.index("[")])
    except ValueError:
        return False
    return True


def civil(happened: str) -> date:
    """Return the civil date that stands in `happened`."""
    return date.fromisoformat(happened[:10])


def instant(happened: str) -> int:
    """Return the instant by the offset that stands in `happened`, in microseconds since 1970."""
    return (datetime.fromisoformat(happened[: happened.index("[")]) - _EPOCH) // _MICROSECOND


def on_day(moment: str, day: date) -> str:
    """Return the same hour of the clock on another day, in the zone of `moment`.

    An hour that the clock leaps over on that day is told as the one after the leap.
    """
    zone = moment[moment.index("[") + 1 : -1]
    clock = datetime.fromisoformat(moment[:19]).time()
    local = datetime.combine(day, clock, tzinfo=ZoneInfo(zone))
    return format((local.astimezone(UTC) - _EPOCH) // _MICROSECOND, zone)


def format(instant: int, zone: str) -> str:
    """Return the moment `instant` (microseconds since 1970) in `zone` (an IANA name).

    Whole seconds, rounded down: a keeper's tap is no finer.

    :raises zoneinfo.ZoneInfoNotFoundError: for a zone that is not known.
    """
    local = (_EPOCH + timedelta(seconds=instant // 1_000_000)).astimezone(ZoneInfo(zone))
    text = local.isoformat()
    # Offsets before standard time had seconds, which RFC 3339 has no room for.
    return f"{text[:25]}[{zone}]" if text[19:25] != "-00:00" else f"{text[:19]}+00:00[{zone}]"


OrderKey = tuple[str, int, str, str]


def order_key(record: Record, root: Record | None = None) -> OrderKey:
    """Return the place of `record` among others: civil date, instant, stamp, id.

    A corrected record keeps the stamp and id of its `root` in that order.
    """
    named = root or record
    return (record.happened[:10], instant(record.happened), named.stamp, named.id)
