"""SQLite connections to one file: one a thread, opened alike, with one writer at a time."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from fieldapp.journal.errors import translated

Connect = Callable[[str], sqlite3.Connection]

_BUSY_MS = 10_000


def connect(path: str) -> sqlite3.Connection:
    """Return a new connection that begins and ends its transactions by hand."""
    return sqlite3.connect(
        path, timeout=_BUSY_MS / 1000, isolation_level=None, check_same_thread=False
    )


class Connections:
    """The connections of all threads of this process to one journal."""

    def __init__(self, path: Path, connect: Connect = connect) -> None:
        self.path = path
        self._connect = connect
        self._local = threading.local()
        self._all: dict[threading.Thread, sqlite3.Connection] = {}
        self._writing = threading.RLock()

    def here(self) -> sqlite3.Connection:
        """Return this thread's connection."""
        connection: sqlite3.Connection | None = getattr(self._local, "connection", None)
        if connection is None:
            with self.errors():
                connection = self._connect(str(self.path))
                connection.execute(f"PRAGMA busy_timeout = {_BUSY_MS}")
                connection.execute("PRAGMA synchronous = FULL")
                connection.execute("PRAGMA foreign_keys = ON")
            self._local.connection = connection
            with self._writing:
                self._let_go()
                self._all[threading.current_thread()] = connection
        return connection

    def _let_go(self) -> None:
        """Close the connections of threads that have ended: each sync has threads of its own."""
        for thread in [thread for thread in self._all if not thread.is_alive()]:
            self._all.pop(thread).close()

    @contextmanager
    def errors(self) -> Iterator[None]:
        """Turn SQLite's errors into this package's."""
        try:
            yield
        except sqlite3.Error as error:
            raise translated(error, str(self.path)) from error

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Read one state of the file, whatever is written meanwhile."""
        connection = self.here()
        if connection.in_transaction:
            yield connection
            return
        with self.errors():
            connection.execute("BEGIN")
            try:
                yield connection
            finally:
                connection.execute("ROLLBACK")

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Write all or nothing; on the disk when the block has ended without an error."""
        connection = self.here()
        with self._writing, self.errors():
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
            except BaseException:
                _roll_back(connection)
                raise
            try:
                connection.execute("COMMIT")
            except sqlite3.Error:
                _roll_back(connection)
                raise

    def close(self) -> None:
        """Close every thread's connection."""
        with self._writing:
            for connection in self._all.values():
                connection.close()
            self._all.clear()
            self._local = threading.local()


def _roll_back(connection: sqlite3.Connection) -> None:
    # A full disk or an I/O error has already ended the transaction.
    if connection.in_transaction:
        connection.execute("ROLLBACK")
