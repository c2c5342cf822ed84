"""Who writes what the keeper answers: the phone's notebook, or the server's pages."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Protocol

from fieldapp.book.book import Book
from fieldapp.journal.record import Draft, Record
from fieldapp.journal.store import Journal


class Signing(Protocol):
    """A journal with its book, the keeper who signs, and what time it is."""

    @property
    def journal(self) -> Journal:
        """The journal that answers go into."""

    @property
    def book(self) -> Book:
        """The book of that journal, current."""

    @property
    def keeper(self) -> str | None:
        """Id of the keeper who answers."""

    def today(self, apiary: str | None = None) -> date:
        """Return the civil date now, in the zone of an apiary."""

    def moment(self, apiary: str | None = None) -> str:
        """Return now as records say it, in the zone of an apiary."""

    def new_id(self) -> str:
        """Return a fresh id, for a draft that another of the same transaction names."""

    def write(self, drafts: Sequence[Draft]) -> list[Record]:
        """Put drafts on the disk in one transaction, then bring the book up to date."""
