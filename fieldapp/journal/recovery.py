"""Opening a journal whatever happened to its file: what can be read is saved."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import NamedTuple

from fieldapp.journal import chain, holes, marker, remains
from fieldapp.journal.errors import Damaged
from fieldapp.journal.ids import Entropy
from fieldapp.journal.reading import seen
from fieldapp.journal.remains import Known, Stood
from fieldapp.journal.rows import insert, judged
from fieldapp.journal.schema import SET_ASIDE
from fieldapp.journal.stamps import NONE
from fieldapp.journal.store import Journal

#: No record with its columns takes less on the disk.
_SMALLEST_ROW = 60


class Opened(NamedTuple):
    """A journal, the holes found on opening it, and, where the file was damaged, what was saved.

    `kept` is where the damaged file stands now, `saved` how many records were read from it.
    """

    journal: Journal
    holes: tuple[holes.Hole, ...]
    kept: Path | None = None
    saved: int = 0


def open_or_recover(
    path: Path, *, now_ms: Callable[[], int], entropy: Entropy, new_writer: bool = False
) -> Opened:
    """Open the journal at `path` and compute every digest; where that cannot be done, save it.

    A damaged file is kept beside the new one, under a name with ``damaged``.

    :raises NotAJournal: where the file is something else.
    :raises TooNew: where a later version wrote it.
    :raises ReadOnly: where it cannot be written.
    """
    journal = None
    try:
        journal = Journal.open(path, now_ms=now_ms, entropy=entropy, new_writer=new_writer)
        return Opened(journal, tuple(holes.verify(journal)))
    except Damaged:
        if journal:
            journal.connections.close()
    kept = _moved_away(path)
    journal = Journal.open(path, now_ms=now_ms, entropy=entropy, new_writer=True)
    saved = _save(journal, kept)
    return Opened(journal, tuple(holes.verify(journal)), kept, saved)


def _moved_away(path: Path) -> Path:
    number = 1
    while (kept := path.with_name(f"{path.name}.damaged-{number}")).exists():
        number += 1
    for end in ("-wal", ""):
        part = path.with_name(path.name + end)
        if part.exists():
            part.replace(kept.with_name(kept.name + end))
    for gone in (path.with_name(path.name + "-shm"), marker.path_of(path)):
        gone.unlink(missing_ok=True)
    return kept


class _Row(NamedTuple):
    """A row of the damaged file; `branch` None where it has no place."""

    branch: int | None
    seq: int
    digest: bytes
    standing: int
    raw: bytes


def _save(journal: Journal, kept: Path) -> int:
    """Put what can be read of the file `kept` into `journal`; return how many records."""
    with closing(sqlite3.connect(kept)) as damaged:
        found = list(_readable(damaged, kept.stat().st_size))
        branches = _branches(damaged)
        known = _holes(damaged)
    placed = {row.raw for row in found if row.branch is not None}
    asides = [row for row in found if row.branch is None and row.standing == SET_ASIDE]
    # Without a place and not set aside: a copy of what stands elsewhere, if that can be read.
    rows = [
        row
        for row in found
        if row.branch is not None or (row.standing != SET_ASIDE and row.raw not in placed)
    ]
    with journal.connections.writing() as connection:
        connection.executemany(
            "INSERT INTO branch (branch, writer, first) VALUES (?, ?, ?)",
            [(number, writer, first) for number, (writer, first, _) in branches.items()],
        )
        connection.executemany(
            "UPDATE branch SET base = ? WHERE branch = ?",
            [(base, n) for n, (_, _, base) in branches.items() if base in branches],
        )
        said = [seen(row.raw) for row in rows]
        stamp = max((each.stamp or NONE for each in said), default=NONE)
        connection.execute("UPDATE replica SET stamp = max(stamp, ?)", (stamp,))
        for (branch, seq, digest, _, raw), what in zip(rows, said, strict=True):
            if branch in branches:
                place = (branch, seq, digest)
            else:
                # Its place cannot be read: it is written again, by this replica.
                own, _, last, before, stamp = journal.own_end(connection)
                place = (own, last + 1, chain.link(before, raw))
                journal.own_ends(connection, last + 1, stamp)
            insert(connection, [judged(*place, raw, what)])
        for row in asides:
            remains.keep_aside(connection, Stood(row.seq, row.digest, row.raw))
        for hole in known:
            remains.keep_hole(connection, hole)
        journal.remark(connection, "recovered", f"{len(rows)} {kept.name}")
    return len(rows)


def _readable(damaged: sqlite3.Connection, size: int) -> Iterator[_Row]:
    """Yield the rows of records that can be read, in order of arrival."""
    try:
        damaged.execute("SELECT 1 FROM record LIMIT 0")
    except sqlite3.DatabaseError:
        return
    pending = [(0, size // _SMALLEST_ROW + 1)]
    while pending:
        after, last = pending.pop()
        try:
            rows = damaged.execute(
                "SELECT branch, seq, digest, standing, raw FROM record NOT INDEXED "
                "WHERE arrival > ? AND arrival <= ? ORDER BY arrival",
                (after, last),
            ).fetchall()
        except sqlite3.DatabaseError:
            if last - after > 1:
                middle = (after + last) // 2
                pending += [(middle, last), (after, middle)]
            continue
        yield from (_Row(*row) for row in rows)


def _branches(damaged: sqlite3.Connection) -> dict[int, tuple[bytes, int, int | None]]:
    try:
        rows = damaged.execute("SELECT branch, writer, first, base FROM branch NOT INDEXED")
        return {number: (writer, first, base) for number, writer, first, base in rows}
    except sqlite3.DatabaseError:
        return {}


def _holes(damaged: sqlite3.Connection) -> list[Known]:
    try:
        # The columns stand in the order of `Known`; the first version had none for `above`.
        return [Known(*row) for row in damaged.execute("SELECT * FROM hole NOT INDEXED")]
    except sqlite3.DatabaseError:
        return []
