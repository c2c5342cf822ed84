"""Each writer's history as it stands on the disk: a chain, with branches where it forked."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from typing import NamedTuple

from fieldapp.journal import chain
from fieldapp.journal.chain import Place, Vector


class Branch(NamedTuple):
    """One branch: its row, where it begins, the branch that it grows from (None: from none)."""

    number: int
    writer: bytes
    first: int
    base: int | None


class Tree:
    """The branches of all writers, or of one, as they stand when it is made."""

    def __init__(self, connection: sqlite3.Connection, writer: bytes | None = None) -> None:
        self._connection = connection
        query = "SELECT branch, writer, first, base FROM branch"
        if writer is None:
            rows = connection.execute(query)
        else:
            rows = connection.execute(f"{query} WHERE writer = ?", (writer,))
        self.branches = {row[0]: Branch(*row) for row in rows}

    def attached(self, branch: Branch) -> bool:
        """Return whether `branch` stands without gap on its writer's first record."""
        while branch.base is not None:
            branch = self.branches[branch.base]
        return branch.first == 1

    def tip(self, branch: Branch) -> tuple[int, bytes] | None:
        """Return seq and digest of the branch's last record, None where it has none."""
        row: tuple[int, bytes] | None = self._connection.execute(
            "SELECT seq, digest FROM record WHERE branch = ? ORDER BY seq DESC LIMIT 1",
            (branch.number,),
        ).fetchone()
        return row

    def heads(self) -> Iterator[tuple[Place, Branch]]:
        """Yield the head of every branch that stands without gap."""
        for branch in self.branches.values():
            if self.attached(branch) and (tip := self.tip(branch)) is not None:
                yield Place(branch.writer, *tip), branch

    def vector(self) -> Vector:
        """Return the heads of all that stands without gap."""
        return Vector(head for head, _ in self.heads())

    def waiting(self) -> list[Branch]:
        """Return the branches that stand above a hole, without those that grow from them."""
        return [b for b in self.branches.values() if b.base is None and b.first > 1]

    def path(self, branch: Branch) -> list[tuple[Branch, int, int | None]]:
        """Return the stretches from the first record to the branch's end: branch, first, last.

        `last` is None for the branch itself, which goes to its end.
        """
        stretches: list[tuple[Branch, int, int | None]] = [(branch, branch.first, None)]
        while branch.base is not None:
            above = branch.first
            branch = self.branches[branch.base]
            stretches.append((branch, branch.first, above - 1))
        return [s for s in reversed(stretches) if s[2] is None or s[1] <= s[2]]

    def on(self, branch: Branch, seq: int) -> Branch:
        """Return the branch that holds record `seq` on the way to the end of `branch`."""
        while seq < branch.first and branch.base is not None:
            branch = self.branches[branch.base]
        return branch

    def digest(self, branch: Branch, seq: int) -> bytes | None:
        """Return the digest of record `seq` on the way to `branch`; of seq 0, where all begin."""
        if seq == 0:
            return chain.start(branch.writer)
        row: tuple[bytes] | None = self._connection.execute(
            "SELECT digest FROM record WHERE branch = ? AND seq = ?",
            (self.on(branch, seq).number, seq),
        ).fetchone()
        return row[0] if row else None

    def holding(self, place: Place) -> Branch | None:
        """Return the branch without gap that holds this very record, or begins there (seq 0)."""
        if place.seq == 0:
            return next((b for b in self.branches.values() if b.first == 1), None)
        for branch in self.branches.values():
            if (
                branch.writer == place.writer
                and branch.first <= place.seq
                and self._row(branch, place.seq) == place.digest
                and self.attached(branch)
            ):
                return branch
        return None

    def _row(self, branch: Branch, seq: int) -> bytes | None:
        row: tuple[bytes] | None = self._connection.execute(
            "SELECT digest FROM record WHERE branch = ? AND seq = ?", (branch.number, seq)
        ).fetchone()
        return row[0] if row else None


def begin_branch(
    connection: sqlite3.Connection, writer: bytes, first: int, base: Branch | None
) -> int:
    """Begin a branch of `writer` at seq `first`, after its record on `base`; return its number."""
    number = connection.execute(
        "INSERT INTO branch (writer, first, base) VALUES (?, ?, ?)",
        (writer, first, base.number if base else None),
    ).lastrowid
    if number is None:
        raise sqlite3.InternalError("an INSERT gave no row number")
    return number
