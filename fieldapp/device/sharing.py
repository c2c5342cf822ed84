"""Hands files and days to other programs: the record book to an inspector, a day to a calendar."""

from __future__ import annotations

from datetime import date
from typing import Protocol


class Sharing(Protocol):
    """Gives away what the keeper wants to give away. `there` is false where a folder does it."""

    there: bool

    def share(self, name: str, media: str, data: bytes) -> str:
        """Keep `data` as a file called `name` where other programs find it, and offer to send it.

        `media` is its media type, as ``text/csv``. Returns where it is; empty where that failed.
        """

    def to_calendar(self, title: str, text: str, day: date) -> bool:
        """Offer an all-day event to the calendar; return whether there is one to offer it to."""


class NoSharing:
    """A computer: its files lie in a folder that every other program reaches."""

    there = False

    def share(self, name: str, media: str, data: bytes) -> str:
        """Do nothing."""
        del name, media, data
        return ""

    def to_calendar(self, title: str, text: str, day: date) -> bool:
        """Do nothing: a computer's calendar takes the file."""
        del title, text, day
        return False


def safe_name(name: str) -> str:
    """Return a name that is one plain file name on every system."""
    kept = "".join(sign if sign.isalnum() or sign in " .-_" else "-" for sign in name)
    return kept.strip(" .") or "apiary-rounds"
