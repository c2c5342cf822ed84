"""Files and days to other programs of the phone."""

from __future__ import annotations

import logging
from datetime import UTC, date, datetime, timedelta

from fieldapp.device.android.java import activity, java, sdk
from fieldapp.device.sharing import safe_name

log = logging.getLogger(__name__)

SHARING = "org.apiaryrounds.rounds.Sharing"
#: The first API level whose Downloads take a file from a program that has no permission.
DOWNLOADS_SINCE = 29


class AndroidSharing:
    """Puts files into Downloads and opens the system's own choice of whom to send them to."""

    there = True

    def share(self, name: str, media: str, data: bytes) -> str:
        """Keep the file in Downloads and offer it; older phones are offered plain text alone."""
        name = safe_name(name)
        try:
            if sdk() >= DOWNLOADS_SINCE:
                uri = java(SHARING).keep(activity(), name, media, data)
                java(SHARING).send(activity(), uri, media, name)
                return f"Downloads/{name}"
            if media.startswith("text/"):
                java(SHARING).text(activity(), data.decode("utf-8"), name)
                return name
        except Exception as error:  # whatever Java throws: the keeper is told that it failed
            log.info("not shared: %s", error)
        return ""

    def to_calendar(self, title: str, text: str, day: date) -> bool:
        """Open the phone's calendar with an all-day event; the keeper saves it there."""
        begin, end = _midnight(day), _midnight(day + timedelta(days=1))
        try:
            java(SHARING).calendar(activity(), title, text, begin, end)
        except Exception as error:  # no calendar on this phone
            log.info("no calendar: %s", error)
            return False
        return True


def _midnight(day: date) -> int:
    """Return the milliseconds of midnight UTC, by which calendars name an all-day event."""
    return int(datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()) * 1000
