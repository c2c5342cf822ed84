"""One journal and one book an operation, opened when they are first asked for."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from fieldapp.book.book import Book
from fieldapp.journal.arriving import Arriving
from fieldapp.journal.files import Files
from fieldapp.journal.named_files import NamedFiles, named_files
from fieldapp.journal.recovery import Opened, open_or_recover
from fieldapp.journal.store import Journal
from syncserver.folder import DataFolder


class Ledger:
    """An operation's journal, the files beside it, and the book that keeps its state current.

    Threads write through the journal's own lock, one at a time. The book is asked by one thread
    at a time; while it takes records in, phones go on syncing. `found` says what was wrong with
    the journal's file when it was opened.
    """

    def __init__(self, opened: Opened, files: Files, open_book: Callable[[Journal], Book]) -> None:
        self.journal = opened.journal
        self.arriving = Arriving(files)
        self._named: tuple[tuple[int, int], NamedFiles] | None = None
        self.found = list(_found(opened))
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

    def named(self) -> NamedFiles:
        """Return the files that records name; looked for anew only where records came in."""
        at = (self.journal.last_arrival(), self.journal.generation)
        known = self._named
        if known is None or known[0] != at:
            known = self._named = (at, named_files(self.journal))
        return known[1]

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
        """Return the ledger of an operation, every digest of its journal checked.

        A damaged file is saved as far as it can be read, and kept beside the new one.
        """
        with self._lock:
            ledger = self._ledgers.get(operation)
            if ledger is None:
                opened = open_or_recover(
                    self._folder.journal(operation),
                    now_ms=self._now_ms,
                    entropy=self._entropy,
                    new_writer=True,
                )
                files = Files(self._folder.files(operation))
                book = self._folder.book(operation)
                ledger = Ledger(opened, files, lambda journal: Book.open(journal, book))
                self._ledgers[operation] = ledger
            return ledger

    def close(self) -> None:
        """Close every ledger."""
        with self._lock:
            for ledger in self._ledgers.values():
                ledger.close()
            self._ledgers.clear()


def _found(opened: Opened) -> Iterator[str]:
    if opened.kept is not None:
        yield (
            f"The journal was damaged. {opened.saved} records were saved from it; the damaged "
            f"file is kept as {opened.kept}. The next syncs bring back what phones hold."
        )
    for hole in opened.holes:
        yield (
            f"Records {hole.first} to {hole.last} of writer {hole.writer}: {hole.why}. "
            "The next syncs bring back what phones hold."
        )
