"""Keeps two servers out of one data folder."""

from __future__ import annotations

import sqlite3
from types import TracebackType

from syncserver.errors import ServerError
from syncserver.folder import DataFolder


class FolderLock:
    """Held by a running server, and by a restore while it writes.

    The lock is SQLite's own exclusive file lock, which every platform has and which the system
    releases when the process ends, however it ends.
    """

    def __init__(self, folder: DataFolder) -> None:
        self._folder = folder
        self._db: sqlite3.Connection | None = None

    def __enter__(self) -> FolderLock:
        db = sqlite3.connect(self._folder.path / "running.lock", isolation_level=None, timeout=0.2)
        try:
            db.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as wrong:
            db.close()
            raise ServerError(
                f"A server is running on the data folder {self._folder.path}.",
                "Stop it first, or name another folder with --data.",
            ) from wrong
        self._db = db
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        value: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._db is not None:
            self._db.close()
            self._db = None
