"""One journal and one book an operation, opened when they are first asked for."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from fieldapp.book import Book
from fieldapp.journal.store import Journal
from syncserver.folder import DataFolder


class Ledger:
    """An operation's journal, and the book that keeps its state current.

    Threads write through the journal's own lock, one at a time. The book is asked by one thread
    at a time; while it takes records in, phones go on syncing.
    """

    def __init__(self, journal: Journal, open_book: Callable[[Journal], Book]) -> None:
        self.journal = journal
        self._open_book = open_book
        self._book: Book | None = None
        self._lock = threading.Lock()

    @contextmanager
    def book(self) -> Iterator[Book]:
        """Hold the book, brought up to what the journal holds now."""
        with self._lock:
            if self._book is None:
                self._book = self._open_book(self.journal)
            self._book.refresh()
            yield self._book

    def close(self) -> None:
        """Close book and journal."""
        with self._lock:
            if self._book is not None:
                self._book.close()
                self._book = None
        self.journal.close()


class Journals:
    """The ledgers of all operations. A fresh writer begins with each start of a server."""

    def __init__(
        self,
        folder: DataFolder,
        now_ms: Callable[[], int],
        entropy: Callable[[int], bytes],
    ) -> None:
        self._folder = folder
        self._now_ms = now_ms
        self._entropy = entropy
        self._ledgers: dict[str, Ledger] = {}
        self._lock = threading.Lock()

    def of(self, operation: str) -> Ledger:
        """Return the ledger of an operation."""
        with self._lock:
            ledger = self._ledgers.get(operation)
            if ledger is None:
                journal = Journal.open(
                    self._folder.journal(operation),
                    now_ms=self._now_ms,
                    entropy=self._entropy,
                    new_writer=True,
                )
                book = self._folder.book(operation)
                ledger = Ledger(journal, lambda opened: Book.open(opened, book))
                self._ledgers[operation] = ledger
            return ledger

    def close(self) -> None:
        """Close every ledger."""
        with self._lock:
            for ledger in self._ledgers.values():
                ledger.close()
            self._ledgers.clear()
