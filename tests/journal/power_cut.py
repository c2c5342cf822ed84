"""A disk that forgets what was not synced when the power is cut, for SQLite through apsw.

`PowerCutDisk` is a VFS. It remembers of every file what a sync has put down for good, and the
writes since. `survivors` writes files as they may stand after a cut: all that was synced,
and of the rest nothing, or any of the writes, as a real disk may keep them in any order.
"""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import apsw

ERRORS = {
    apsw.ConstraintError: sqlite3.IntegrityError,
    apsw.FullError: sqlite3.OperationalError,
    apsw.BusyError: sqlite3.OperationalError,
}


class PowerCutDisk(apsw.VFS):
    """A VFS named `name` over the default one."""

    def __init__(self, name: str) -> None:
        self.synced: dict[str, bytes] = {}
        self.since: dict[str, list[tuple[int, bytes]]] = {}
        super().__init__(name, "")

    def xOpen(self, name: Any, flags: list[int]) -> apsw.VFSFile:  # noqa: N802
        return _File(self, name, flags)

    def xDelete(self, filename: str, syncdir: bool) -> None:  # noqa: N802
        super().xDelete(filename, syncdir)
        self.synced.pop(Path(filename).name, None)
        self.since.pop(Path(filename).name, None)

    def survivors(self, folder: Path, chance: random.Random | None) -> None:
        """Write what a cut leaves into `folder`; without `chance` nothing unsynced stays."""
        for name, whole in self.synced.items():
            left = bytearray(whole)
            for at, data in self.since.get(name, ()):
                if chance is not None and chance.random() < 0.5:
                    left.extend(bytes(max(0, at + len(data) - len(left))))
                    left[at : at + len(data)] = data
            (folder / name).write_bytes(left)


class _File(apsw.VFSFile):
    def __init__(self, disk: PowerCutDisk, name: Any, flags: list[int]) -> None:
        self._disk = disk
        self._path = Path(name.filename() if hasattr(name, "filename") else str(name))
        super().__init__("", name, flags)
        # A file that was there before was put down before.
        if self._path.exists() and self._path.stat().st_size:
            disk.synced.setdefault(self._path.name, self._path.read_bytes())

    def xWrite(self, data: bytes, offset: int) -> None:  # noqa: N802
        super().xWrite(data, offset)
        self._disk.since.setdefault(self._path.name, []).append((offset, bytes(data)))

    def xTruncate(self, size: int) -> None:  # noqa: N802
        super().xTruncate(size)

    def xSync(self, flags: int) -> None:  # noqa: N802
        super().xSync(flags)
        self._disk.synced[self._path.name] = self._path.read_bytes()
        self._disk.since[self._path.name] = []


class Connection:
    """An apsw connection in the clothes of the standard library's, as far as a journal goes."""

    def __init__(self, path: str, vfs: str) -> None:
        self._inner = apsw.Connection(path, vfs=vfs)
        # apsw offers no shared memory to a VFS, so the log's index stays in this process.
        self._inner.execute("PRAGMA locking_mode = EXCLUSIVE")

    def execute(self, sql: str, values: Iterable[Any] = ()) -> Rows:
        return Rows(_translated(lambda: self._inner.execute(sql, tuple(values))), self._inner)

    def executemany(self, sql: str, rows: Iterable[Iterable[Any]]) -> None:
        _translated(lambda: self._inner.executemany(sql, [tuple(row) for row in rows]))

    @property
    def in_transaction(self) -> bool:
        return bool(self._inner.in_transaction)

    def close(self) -> None:
        self._inner.close()


class Rows:
    """The rows of one statement."""

    def __init__(self, cursor: Any, inner: apsw.Connection) -> None:
        self._rows = iter(list(cursor))

    def fetchone(self) -> Any:
        return next(self._rows, None)

    def fetchall(self) -> list[Any]:
        return list(self._rows)

    def __iter__(self) -> Iterator[Any]:
        return self._rows


def _translated(call: Any) -> Any:
    try:
        return call()
    except apsw.Error as error:
        kind = next((to for of, to in ERRORS.items() if isinstance(error, of)), None)
        raise (kind or sqlite3.DatabaseError)(str(error)) from error
