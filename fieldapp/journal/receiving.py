"""Taking batches in: every check from the bytes, then all that fits in one transaction."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from typing import NamedTuple

from fieldapp.journal import chain, refusals
from fieldapp.journal.batches import Batch
from fieldapp.journal.chain import Place
from fieldapp.journal.filling import close_holes, fill
from fieldapp.journal.reading import Seen, seen
from fieldapp.journal.record import MOST_BYTES
from fieldapp.journal.refusals import Refusal, Why
from fieldapp.journal.rows import insert, judged
from fieldapp.journal.stamps import NONE
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Branch, Tree, begin_branch


class Receipt(NamedTuple):
    """What became of a batch, told once it is on the disk.

    `held` is the seq up to which the batch's records are held now and `new` how many of them
    were not held before. `new_writer`: they were of this replica's own writer, so it has
    begun a new one, and its keeper is told.
    """

    held: int
    new: int
    refused: Refusal | None = None
    new_writer: bool = False


class _Checked(NamedTuple):
    """A batch whose digests were computed: what fits of it, and what was refused."""

    batch: Batch
    digests: list[bytes]
    said: list[Seen]
    refused: Refusal | None


def receive(journal: Journal, batches: Sequence[Batch]) -> list[Receipt]:
    """Take `batches` in and return a receipt for each once all are on the disk.

    A batch is refused whole where its digest before is not held here or its digest after does
    not compute; from a record over 64 KiB on it is refused from there. What is refused is kept
    in sight. What a record says is never a reason.

    :raises Full: where the disk has no room; nothing of `batches` is stored then.
    """
    checked = [_check(batch) for batch in batches]
    with journal.connections.writing() as connection:
        return [_take(journal, connection, each) for each in checked]


def _check(batch: Batch) -> _Checked:
    digests = list(chain.digests(batch.before, batch.records))
    if not digests or digests[-1] != batch.after:
        size = sum(map(len, batch.records))
        refused = Refusal(batch.writer, batch.first, "digest after", size)
        return _Checked(batch, [], [], refused)
    for index, raw in enumerate(batch.records):
        why: Why | None = (
            "too large" if len(raw) > MOST_BYTES else "not one line" if b"\n" in raw else None
        )
        if why:
            refused = Refusal(batch.writer, batch.first + index, why, len(raw))
            said = [seen(kept) for kept in batch.records[:index]]
            return _Checked(batch, digests[:index], said, refused)
    return _Checked(batch, digests, [seen(raw) for raw in batch.records], None)


def _take(journal: Journal, connection: sqlite3.Connection, checked: _Checked) -> Receipt:
    batch, digests, said, refused = checked
    before = Place(batch.writer, batch.first - 1, batch.before)
    tree = Tree(connection, batch.writer)
    if digests and not tree.holds(before):
        size = sum(map(len, batch.records))
        refused, digests = Refusal(batch.writer, batch.first, "digest before", size), []
    held, under = _held(tree, before, digests)
    new_writer = False
    if held < len(digests):
        new_writer = _leave_own_writer(journal, connection, batch.writer)
        branch = _branch_after(connection, tree, under)
        rows = [
            judged(branch.number, batch.first + i, digests[i], batch.records[i], said[i])
            for i in range(held, len(digests))
        ]
        if tree.above_holes():
            fill(connection, branch, rows)
        else:
            insert(connection, rows)
        close_holes(connection, rows, batch.writer)
        stamp = max((each.stamp or NONE for each in said[held:]), default=NONE)
        connection.execute("UPDATE replica SET stamp = max(stamp, ?)", (stamp,))
    upto = batch.first - 1 + len(digests)
    refusals.clear(connection, batch.writer, batch.first, upto)
    if refused:
        refusals.put(connection, "us", refused)
    return Receipt(upto, len(digests) - held, refused, new_writer)


def _held(tree: Tree, before: Place, digests: list[bytes]) -> tuple[int, Place]:
    """Return how many of the records in a row are held already, and the last place held.

    Whoever holds a record without gap holds all below it, so halving finds the end.
    """
    low, high = 0, len(digests)
    step = high
    while low < high:
        if tree.holds(Place(before.writer, before.seq + step, digests[step - 1])):
            low = step
        else:
            high = step - 1
        # Mostly all or none is held: the last is asked first, then the first.
        step = 1 if low == 0 and step == len(digests) else (low + high + 1) // 2
    under = Place(before.writer, before.seq + low, digests[low - 1]) if low else before
    return low, under


def _branch_after(connection: sqlite3.Connection, tree: Tree, under: Place) -> Branch:
    """Return the branch that ends at `under`; where others follow it already, a new one."""
    if under.seq == 0:
        return tree.empty(under.writer) or begin_branch(connection, under.writer, 1, None)
    below = tree.holding(under)
    if below is not None and tree.tip(below) == (under.seq, under.digest):
        return below
    return begin_branch(connection, under.writer, under.seq + 1, below)


def _leave_own_writer(journal: Journal, connection: sqlite3.Connection, writer: bytes) -> bool:
    own = connection.execute(
        "SELECT 1 FROM replica JOIN branch ON branch = own WHERE writer = ?", (writer,)
    ).fetchone()
    if own is None:
        return False
    connection.execute("UPDATE replica SET own = NULL")
    journal.remark(connection, "new writer", "copy")
    return True
