"""A disk on which the n-th write, sync or truncation fails, once or from then on."""

from __future__ import annotations

from typing import Any

import apsw
from power_cut import Connection


class FailingDisk(apsw.VFS):
    """A VFS named `name` over the default one; `calls` counts what it was asked to put down.

    `fails_at` is the number of the call that fails, 0 for none; `full` makes it fail as a disk
    without room does, otherwise as one that is broken. With `for_good` all later ones fail too.
    """

    def __init__(self, name: str, fails_at: int, full: bool, for_good: bool) -> None:
        self.calls = 0
        self._fails_at = fails_at
        self._full = full
        self._for_good = for_good
        super().__init__(name, "")

    def xOpen(self, name: Any, flags: list[int]) -> apsw.VFSFile:  # noqa: N802
        return _File(self, name, flags)

    def ask(self) -> None:
        """Count one call, and fail where it is its turn."""
        self.calls += 1
        late = self._for_good and self._fails_at and self.calls > self._fails_at
        if self.calls == self._fails_at or late:
            # In the words that the standard library gives for these.
            full = apsw.FullError("database or disk is full")
            raise full if self._full else apsw.IOError("disk I/O error")


class _File(apsw.VFSFile):
    def __init__(self, disk: FailingDisk, name: Any, flags: list[int]) -> None:
        self._disk = disk
        super().__init__("", name, flags)

    def xWrite(self, data: bytes, offset: int) -> None:  # noqa: N802
        self._disk.ask()
        super().xWrite(data, offset)

    def xTruncate(self, size: int) -> None:  # noqa: N802
        self._disk.ask()
        super().xTruncate(size)

    def xSync(self, flags: int) -> None:  # noqa: N802
        self._disk.ask()
        super().xSync(flags)


def connect(path: str, vfs: str) -> Connection:
    """Return a connection that puts everything down through the disk of this name."""
    return Connection(path, vfs)
