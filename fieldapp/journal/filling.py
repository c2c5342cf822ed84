"""Filling holes: joining on again what stood above one, or writing it again elsewhere."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

from fieldapp.journal import chain, losses
from fieldapp.journal.chain import Place
from fieldapp.journal.holes import set_aside
from fieldapp.journal.losses import Finder
from fieldapp.journal.reading import seen
from fieldapp.journal.rows import Row, insert, judged, of_ident, settle_standing
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Branch, Tree, begin_branch


def fill(connection: sqlite3.Connection, branch: Branch, rows: list[Row]) -> None:
    """Put `rows` on `branch`, of a writer with records above a hole, and join on what fits.

    A record that is here already above the hole changes its place and is not put in twice.
    """
    fresh = []
    for row in rows:
        standing = connection.execute(
            "SELECT arrival, branch, raw FROM record JOIN branch USING (branch) "
            "WHERE writer = ? AND seq = ? AND digest = ?",
            (branch.writer, row.seq, row.digest),
        ).fetchone()
        if standing is None or standing[2] != row.raw:
            if standing is not None:
                set_aside(connection, standing[0])
            fresh.append(row)
            continue
        connection.execute(
            "UPDATE record SET branch = ? WHERE arrival = ?", (row.branch, standing[0])
        )
        connection.execute(
            "UPDATE branch SET base = ? WHERE base = ? AND first = ?",
            (row.branch, standing[1], row.seq + 1),
        )
    insert(connection, fresh)
    _rejoin(connection, branch.writer)


def close_holes(connection: sqlite3.Connection, rows: Sequence[Row], writer: bytes) -> None:
    """Forget the holes of `writer` that `rows`, in a row, have filled."""
    first, last = rows[0].seq, rows[-1].seq
    holes = connection.execute(
        "SELECT rowid, first, last, digest, above FROM hole "
        "WHERE writer = ? AND first <= ? AND last >= ?",
        (writer, last, first),
    ).fetchall()
    if not holes:
        return
    tree = Tree(connection, writer)
    for rowid, begins, ends, digest, above in holes:
        over = tree.standing(Place(writer, ends + 1, above)) if above else None
        if digest is not None and digest != rows[begins - first].digest:
            continue  # Another branch's record at this seq.
        if digest is None and over and not tree.attached(over):
            continue  # Another branch's records, or not all of them yet.
        if ends <= last:
            connection.execute("DELETE FROM hole WHERE rowid = ?", (rowid,))
        else:
            connection.execute(
                "UPDATE hole SET first = ?, before = ? WHERE rowid = ?",
                (last + 1, rows[-1].digest, rowid),
            )


def _rejoin(connection: sqlite3.Connection, writer: bytes) -> None:
    joined = True
    while joined:
        tree = Tree(connection, writer)
        joined = any(_join_on(connection, tree, above) for above in tree.loose())


def _join_on(connection: sqlite3.Connection, tree: Tree, above: Branch) -> bool:
    """Join `above` on to the record that it follows; return whether anything changed."""
    row = connection.execute(
        "SELECT seq, digest, raw FROM record WHERE branch = ? ORDER BY seq LIMIT 1",
        (above.number,),
    ).fetchone()
    if row is None:
        connection.execute("DELETE FROM branch WHERE branch = ?", (above.number,))
        return True
    if row[0] > above.first:
        connection.execute("UPDATE branch SET first = ? WHERE branch = ?", (row[0], above.number))
        return True
    for branch in tree.branches.values():
        below = tree.digest_on(branch, above.first - 1)
        if below and tree.attached(branch) and chain.link(below, row[2]) == row[1]:
            _attach(connection, branch, above, tree.tip(branch) == (above.first - 1, below))
            return True
    return False


def _attach(
    connection: sqlite3.Connection, branch: Branch, above: Branch, at_its_end: bool
) -> None:
    if not at_its_end:
        connection.execute(
            "UPDATE branch SET base = ? WHERE branch = ?", (branch.number, above.number)
        )
        return
    for statement in (
        "UPDATE record SET branch = ? WHERE branch = ?",
        "UPDATE branch SET base = ? WHERE base = ?",
    ):
        connection.execute(statement, (branch.number, above.number))
    connection.execute("DELETE FROM branch WHERE branch = ?", (above.number,))


def settle(journal: Journal, finder: Finder) -> bool:
    """Write again what stands above holes, and tell what is lost; return whether anything was.

    To be called when a whole sync has ended and did not bring the missing ones. A record whose
    bytes stand elsewhere is not written again, so copies do not pile up.
    """
    if not unsettled(journal):
        return False
    with journal.connections.writing() as connection:
        above = Tree(connection).above_holes()
        numbers = [(branch.number,) for branch in above]
        # Asked while all stands in its place: there it shows whose records they are.
        missing = losses.missing(connection)
        for branch in sorted(above, key=lambda branch: (branch.writer, branch.first)):
            _write_again(journal, connection, branch, {branch.number for branch in above})
        # First none names another as its base, then all go.
        connection.executemany("UPDATE branch SET base = NULL WHERE branch = ?", numbers)
        connection.executemany("DELETE FROM branch WHERE branch = ?", numbers)
        losses.tell(journal, connection, missing, finder)
    return True


def unsettled(journal: Journal) -> bool:
    """Return whether anything waits above a hole, or a hole is not told yet."""
    with journal.connections.reading() as connection:
        untold = connection.execute("SELECT 1 FROM hole WHERE lost = 0").fetchone()
        return untold is not None or bool(Tree(connection).above_holes())


def _write_again(
    journal: Journal, connection: sqlite3.Connection, branch: Branch, above: set[int]
) -> None:
    rows = connection.execute(
        "SELECT arrival, ident, raw FROM record WHERE branch = ? ORDER BY seq", (branch.number,)
    ).fetchall()
    for arrival, ident, raw in rows:
        alike = (row for row in of_ident(connection, ident) if row.raw == raw)
        if any(row.branch is not None and row.branch not in above for row in alike):
            connection.execute("UPDATE record SET branch = NULL WHERE arrival = ?", (arrival,))
            settle_standing(connection, ident)
            continue
        journal.write_again(connection, arrival, raw)


def adopt(journal: Journal, first: Place, records: Sequence[bytes]) -> int:
    """Take in records that stood above a hole elsewhere, the first at `first`, as they stand.

    They wait above the hole here too. Return how many were not here at this place.
    """
    seqs = range(first.seq, first.seq + len(records))
    digests = [first.digest, *chain.digests(first.digest, records[1:])]
    with journal.connections.writing() as connection:
        fresh = [
            (seq, digest, raw)
            for seq, digest, raw in zip(seqs, digests, records, strict=True)
            if not _stands_at(connection, Place(first.writer, seq, digest))
        ]
        if fresh:
            branch = begin_branch(connection, first.writer, fresh[0][0], None)
            rows = [judged(branch.number, *each, seen(each[2])) for each in fresh]
            insert(connection, rows)
            _rejoin(connection, first.writer)
    return len(fresh)


def _stands_at(connection: sqlite3.Connection, place: Place) -> bool:
    row = connection.execute(
        "SELECT 1 FROM record JOIN branch USING (branch) "
        "WHERE writer = ? AND seq = ? AND digest = ?",
        place,
    ).fetchone()
    return row is not None
