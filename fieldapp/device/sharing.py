"""Hands files and days to other programs: the record book to an inspector, a day to a calendar."""

from __future__ import annotations

import logging
from datetime import date
from pathlib import Path, PurePosixPath
from typing import Protocol

log = logging.getLogger(__name__)


class Sharing(Protocol):
    """Gives away what the keeper wants to give away."""

    def share(self, name: str, media: str, data: bytes) -> str:
        """Keep `data` as a file called `name` where other programs find it, and offer to send it.

        `media` is its media type, as ``text/csv``. Returns where it is; empty where that failed.
        """

    def to_calendar(self, title: str, text: str, day: date) -> bool:
        """Offer an all-day event to the calendar; return whether there is one to offer it to."""


class FolderSharing:
    """A computer: files are put into a folder of the keeper's, and never over another file."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def share(self, name: str, media: str, data: bytes) -> str:
        """Write the file; one more of the same name gets a number."""
        del media
        plain = PurePosixPath(safe_name(name))
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            for number in range(1, 1000):
                tail = f" {number}" if number > 1 else ""
                path = self._folder / f"{plain.stem}{tail}{plain.suffix}"
                try:
                    with path.open("xb") as file:
                        file.write(data)
                except FileExistsError:
                    continue
                return str(path)
        except OSError as error:
            log.info("not shared: %s", error)
        return ""

    def to_calendar(self, title: str, text: str, day: date) -> bool:
        """Offer nothing: a computer takes the calendar file."""
        del title, text, day
        return False


def safe_name(name: str) -> str:
    """Return a name that is one plain file name on every system."""
    kept = "".join(sign if sign.isalnum() or sign in " .-_" else "-" for sign in name)
    return kept.strip(" .") or "apiary-rounds"


def home_sharing() -> FolderSharing:
    """Return sharing into the folder for downloads of this user."""
    return FolderSharing(Path.home() / "Downloads")
