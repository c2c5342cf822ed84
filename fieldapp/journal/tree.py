"""Each writer's history as it stands on the disk: a chain, with branches where it forked."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
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


class Stretch(NamedTuple):
    """Records in a row on one branch, both ends included; `last` None goes to its end."""

    branch: Branch
    first: int
    last: int | None


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
        self._of_writer: defaultdict[bytes, list[Branch]] = defaultdict(list)
        for branch in self.branches.values():
            self._of_writer[branch.writer].append(branch)

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

    def above_holes(self) -> list[Branch]:
        """Return the branches that do not stand on their writer's first record."""
        return [branch for branch in self.branches.values() if not self.attached(branch)]

    def loose(self) -> list[Branch]:
        """Return the branches that grow from nothing although they are no beginning."""
        return [b for b in self.branches.values() if b.base is None and b.first > 1]

    def path(self, branch: Branch) -> list[Stretch]:
        """Return the stretches from the first record to the branch's end, in order."""
        stretches = [Stretch(branch, branch.first, None)]
        while branch.base is not None:
            last = branch.first - 1
            branch = self.branches[branch.base]
            if branch.first <= last:
                stretches.append(Stretch(branch, branch.first, last))
        return stretches[::-1]

    def digest(self, branch: Branch, seq: int) -> bytes | None:
        """Return the digest at `seq` on the way to the end of `branch`; at 0, where all begin."""
        if seq == 0:
            return chain.start(branch.writer)
        while seq < branch.first and branch.base is not None:
            branch = self.branches[branch.base]
        return self.digest_on(branch, seq)

    def digest_on(self, branch: Branch, seq: int) -> bytes | None:
        """Return the digest of the record `seq` that lies on this very branch."""
        row: tuple[bytes] | None = self._connection.execute(
            "SELECT digest FROM record WHERE branch = ? AND seq = ?", (branch.number, seq)
        ).fetchone()
        return row[0] if row else None

    def holding(self, place: Place) -> Branch | None:
        """Return the branch without gap on which this very record lies, None where none is."""
        for branch in self._of_writer[place.writer]:
            if (
                branch.first <= place.seq
                and self.digest_on(branch, place.seq) == place.digest
                and self.attached(branch)
            ):
                return branch
        return None

    def standing(self, place: Place) -> Branch | None:
        """Return the branch on which this very record lies, also above a hole."""
        for branch in self._of_writer[place.writer]:
            if branch.first <= place.seq and self.digest_on(branch, place.seq) == place.digest:
                return branch
        return None

    def empty(self, writer: bytes) -> Branch | None:
        """Return a beginning of `writer` on which nothing lies (its first record is a hole)."""
        beginnings = (b for b in self._of_writer[writer] if b.first == 1 and b.base is None)
        return next((branch for branch in beginnings if self.tip(branch) is None), None)

    def holds(self, place: Place) -> bool:
        """Return whether all up to `place` stands here without gap; so does any beginning."""
        if place.seq == 0:
            return place.digest == chain.start(place.writer)
        return self.holding(place) is not None


def begin_branch(
    connection: sqlite3.Connection, writer: bytes, first: int, base: Branch | None
) -> Branch:
    """Begin a branch of `writer` at seq `first`, after its record on `base`."""
    (number,) = connection.execute(
        "INSERT INTO branch (writer, first, base) VALUES (?, ?, ?) RETURNING branch",
        (writer, first, base.number if base else None),
    ).fetchone()
    return Branch(number, writer, first, base.number if base else None)
