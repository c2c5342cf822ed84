"""Holes: records that are missing or do not fit their digest, and what stands above them.

What stands above a hole stays on the disk and counts, on a branch without base that is no
part of the vector. When the missing ones arrive it is joined on again; when a whole sync did
not bring them it is written again, by this replica's writer, and what is still missing then
is told by a ``loss`` record.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from typing import NamedTuple

from fieldapp.journal import chain
from fieldapp.journal.errors import Damaged
from fieldapp.journal.record import MOST_BYTES
from fieldapp.journal.rows import of_ident, settle_standing
from fieldapp.journal.schema import COPY, OTHER_CONTENT, SET_ASIDE
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Branch, Tree, begin_branch

_PAGE = 2000


class Hole(NamedTuple):
    """Records `first` to `last` of `writer` (hex) that are not here, and why.

    `why` is ``missing``, ``altered`` or ``too large``; `lost` once a ``loss`` record tells it.
    """

    writer: str
    first: int
    last: int
    why: str
    lost: bool


class _Found(NamedTuple):
    """A place where a branch breaks: before which seq all fits, and what is wrong there."""

    first: int
    last: int
    why: str
    before: bytes | None
    digest: bytes | None
    arrival: int | None


def holes(journal: Journal) -> list[Hole]:
    """Return the holes that are known and not yet filled."""
    with journal.connections.reading() as connection:
        rows = connection.execute(
            "SELECT writer, first, last, why, lost FROM hole ORDER BY writer, first, digest, above"
        )
        return [Hole(w.hex(), first, last, why, bool(lost)) for w, first, last, why, lost in rows]


def verify(journal: Journal) -> list[Hole]:
    """Compute every digest from the bytes and return the holes found now, each once.

    To be called at every start, in any thread: it reads page by page and writes only where
    something is wrong. Takes about a second for 400,000 records on a desktop computer.

    :raises Damaged: where the file cannot be read; `recovery.open_or_recover` saves it.
    """
    found: list[Hole] = []
    with journal.connections.reading() as connection:
        (state,) = connection.execute("PRAGMA quick_check(1)").fetchone()
        if state != "ok":
            raise Damaged(str(journal.connections.path), state)
        pending = list(Tree(connection).branches.values())
    while pending:
        branch = pending.pop()
        if _first_misfit(journal, branch) is None:
            continue
        with journal.connections.writing() as connection:
            # Looked for again: it may have been filled since.
            if (misfit := _misfit(connection, branch)) is not None:
                above = _cut(journal, connection, branch, misfit)
                found.append(
                    Hole(branch.writer.hex(), misfit.first, misfit.last, misfit.why, False)
                )
                pending += [above] if above else []
    _reckon(journal)
    _place_again(journal)
    return found


def _reckon(journal: Journal) -> None:
    """Keep how many rows are gone, which is more than the holes where newest ones were removed.

    What stood behind one of them, a copy or another content of its id, may count now.
    """
    with journal.connections.reading() as connection:
        gone, known = connection.execute(
            "SELECT (SELECT coalesce(max(arrival), 0) - count(*) FROM record), gone FROM replica"
        ).fetchone()
    if gone != known:
        with journal.connections.writing() as connection:
            connection.execute("UPDATE replica SET gone = ?, generation = generation + 1", (gone,))
            for (ident,) in connection.execute(
                "SELECT DISTINCT ident FROM record WHERE standing IN (?, ?) AND standing <> 0",
                (COPY, OTHER_CONTENT),
            ).fetchall():
                settle_standing(connection, ident)


def _place_again(journal: Journal) -> None:
    """Write again what has no place and stands nowhere else any more.

    It had lost its place to the same bytes elsewhere, and now those were altered or removed.
    """
    with journal.connections.reading() as connection:
        if not _placeless(connection):
            return
    with journal.connections.writing() as connection:
        for arrival, ident, raw in _placeless(connection):
            if not _placed(connection, ident, raw):
                journal.write_again(connection, arrival, raw)
                settle_standing(connection, ident)


def _placeless(connection: sqlite3.Connection) -> list[tuple[int, bytes, bytes]]:
    rows = connection.execute(
        "SELECT arrival, ident, raw FROM record WHERE branch IS NULL AND standing <> ? "
        "ORDER BY arrival",
        (SET_ASIDE,),
    ).fetchall()
    return [row for row in rows if not _placed(connection, *row[1:])]


def _placed(connection: sqlite3.Connection, ident: bytes, raw: bytes) -> bool:
    return any(row.branch is not None and row.raw == raw for row in of_ident(connection, ident))


def _first_misfit(journal: Journal, branch: Branch) -> _Found | None:
    with journal.connections.reading() as connection:
        return _misfit(connection, branch)


def _misfit(connection: sqlite3.Connection, branch: Branch) -> _Found | None:
    tree = Tree(connection, branch.writer)
    if branch.number not in tree.branches:
        return None
    branch = tree.branches[branch.number]
    loose = branch.base is None and branch.first > 1
    before = _digest_of_hole(connection, branch) if loose else tree.digest(branch, branch.first - 1)
    expected = branch.first
    for arrival, seq, digest, raw in _rows(connection, branch):
        if seq > expected:
            return _Found(expected, seq - 1, "missing", before, None, None)
        if len(raw) > MOST_BYTES:
            return _Found(seq, seq, "too large", before, digest, arrival)
        if before is not None and chain.link(before, raw) != digest:
            return _Found(seq, seq, "altered", before, digest, arrival)
        before, expected = digest, seq + 1
    (own_seq,) = connection.execute(
        "SELECT coalesce(max(own_seq), 0) FROM replica WHERE own = ?", (branch.number,)
    ).fetchone()
    if own_seq >= expected:
        return _Found(expected, own_seq, "missing", before, None, None)
    return None


def _digest_of_hole(connection: sqlite3.Connection, above: Branch) -> bytes | None:
    """Return the digest that the record under `above` had, where that is known."""
    holes = connection.execute(
        "SELECT digest, above FROM hole WHERE writer = ? AND last = ?",
        (above.writer, above.first - 1),
    ).fetchall()
    first = connection.execute(
        "SELECT digest, raw FROM record WHERE branch = ? AND seq = ?", (above.number, above.first)
    ).fetchone()
    if first is None:
        return None
    own: list[bytes | None] = [digest for digest, stood in holes if stood == first[0]]
    if own:
        return own[0]
    # No hole of its own: it forked right above a hole of the branch that it grew from.
    known: list[bytes] = [digest for digest, _ in holes if digest is not None]
    fitting = (digest for digest in known if chain.link(digest, first[1]) == first[0])
    return next(fitting, known[0] if len(known) == 1 else None)


def _rows(
    connection: sqlite3.Connection, branch: Branch
) -> Iterator[tuple[int, int, bytes, bytes]]:
    after = 0
    while True:
        page = connection.execute(
            "SELECT arrival, seq, digest, raw FROM record WHERE branch = ? AND seq > ? "
            "ORDER BY seq LIMIT ?",
            (branch.number, after, _PAGE),
        ).fetchall()
        yield from page
        if len(page) < _PAGE:
            return
        after = page[-1][1]


def _cut(
    journal: Journal, connection: sqlite3.Connection, branch: Branch, found: _Found
) -> Branch | None:
    """Take what stands above a hole off its branch; return the branch that it stands on now."""
    set_aside(connection, found.arrival)
    _keep(connection, branch, found)
    journal.remark(
        connection, "hole", f"{branch.writer.hex()} {found.first} {found.last} {found.why}"
    )
    # Nothing more may be written after a record that others may hold and this replica lacks.
    connection.execute(
        "UPDATE replica SET own = NULL WHERE own IN (SELECT branch FROM branch WHERE writer = ?)",
        (branch.writer,),
    )
    connection.execute(
        "UPDATE branch SET base = NULL WHERE base = ? AND first BETWEEN ? AND ?",
        (branch.number, found.first + 1, found.last + 1),
    )
    if found.first == branch.first and branch.base is None and branch.first > 1:
        # Already above another hole: it begins later now.
        connection.execute(
            "UPDATE branch SET first = ? WHERE branch = ?", (found.last + 1, branch.number)
        )
        return branch
    return _move_above(connection, branch, found.last)


def _keep(connection: sqlite3.Connection, branch: Branch, found: _Found) -> None:
    """Keep a hole; where others fork off inside it, in parts, since each part may come alone."""
    forks = connection.execute(
        "SELECT first, digest FROM branch JOIN record USING (branch) "
        "WHERE base = ? AND first = seq AND first BETWEEN ? AND ?",
        (branch.number, found.first + 1, found.last + 1),
    ).fetchall()
    on_it = connection.execute(
        "SELECT digest FROM record WHERE branch = ? AND seq = ?", (branch.number, found.last + 1)
    ).fetchone()
    stood = dict(forks) | ({found.last + 1: on_it[0]} if on_it else {})
    first, before = found.first, found.before
    for above in sorted({*stood, found.last + 1}):
        connection.execute(
            "INSERT OR IGNORE INTO hole (writer, first, last, before, digest, why, above) "
            "VALUES (?, ?, ?, ?, ?, ?, ?)",
            (branch.writer, first, above - 1, before, found.digest, found.why, stood.get(above)),
        )
        first, before = above, None


def _move_above(connection: sqlite3.Connection, branch: Branch, last: int) -> Branch | None:
    (more,) = connection.execute(
        "SELECT count(*) FROM record WHERE branch = ? AND seq > ?", (branch.number, last)
    ).fetchone()
    if not more:
        return None
    above = begin_branch(connection, branch.writer, last + 1, None)
    connection.execute(
        "UPDATE record SET branch = ? WHERE branch = ? AND seq > ?",
        (above.number, branch.number, last),
    )
    connection.execute(
        "UPDATE branch SET base = ? WHERE base = ? AND first > ?",
        (above.number, branch.number, last + 1),
    )
    return above


def set_aside(connection: sqlite3.Connection, arrival: int | None) -> None:
    """Take a record off its place; its bytes stay on the disk and in sight, and do not count."""
    if arrival is None:
        return
    (ident,) = connection.execute(
        "UPDATE record SET branch = NULL, standing = ? WHERE arrival = ? RETURNING ident",
        (SET_ASIDE, arrival),
    ).fetchone()
    settle_standing(connection, ident)
    connection.execute("UPDATE replica SET generation = generation + 1")
