"""The book before it is opened: what it kept for the first page, which waits for no rules.

A kept sheet is given only for the day that was asked, and while the rules, what the file stands
on and the last arrival are those of now: so what is shown is what the rules would answer.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.book.codec import Damaged, thawed
from fieldapp.book.file import RULES, as_it_is, stands
from fieldapp.book.sheet import Sheet, thaw
from fieldapp.journal.store import Journal

if TYPE_CHECKING:
    from fieldapp.book.book import Book


class ClosedBook:
    """The book of `journal` that was kept at `path`, before it is opened."""

    def __init__(self, journal: Journal, path: Path) -> None:
        self._journal = journal
        self._path = path
        self._read: tuple[tuple[date, int, str], Sheet | None] | None = None

    def open(self) -> Book:
        """Open it. Use what it returns in this one's place."""
        from fieldapp.book.book import Book  # noqa: PLC0415  (it loads the rules)

        return Book.open(self._journal, self._path)

    def sheet(self, day: date) -> Sheet | None:
        """Return the sheet of `day`; None where none is kept, or it would be another now."""
        journal = self._journal
        stood = stands(journal.generation, len(journal.other_contents()))
        asked = (day, journal.last_arrival(), stood)
        if self._read is None or self._read[0] != asked:
            self._read = asked, self._kept(day, stood)
        return self._read[1]

    def _kept(self, day: date, stood: str) -> Sheet | None:
        try:
            with closing(as_it_is(self._path)) as connection:
                rows = dict(connection.execute("SELECT name, value FROM meta").fetchall())
                if rows.get("rules") != RULES or thawed(str, rows.get("stands", "")) != stood:
                    return None
                arrival = int(thawed(str, rows.get("arrival", "")))
                if next(self._journal.arrivals(arrival), None) is not None:
                    return None
                question = "SELECT value FROM sheet WHERE day = ?"
                row = connection.execute(question, (day.toordinal(),)).fetchone()
            sheet = None if row is None else thaw(row[0])
        except (sqlite3.Error, Damaged, ValueError):
            return None
        return sheet if sheet is not None and sheet.day == day else None
