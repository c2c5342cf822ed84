"""Rows of the journal's table of records: putting them in, and what each is good for."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from hashlib import sha256
from itertools import accumulate
from typing import NamedTuple

from fieldapp.journal import ids
from fieldapp.journal.reading import Seen, decode
from fieldapp.journal.record import Record
from fieldapp.journal.schema import COPY, COUNTS, NOT_UNDERSTOOD, OTHER_CONTENT, SET_ASIDE

INSERT = "INSERT INTO record (branch, seq, digest, ident, standing, raw) VALUES (?, ?, ?, ?, ?, ?)"
#: Rows in a row on one branch, all of which count, in one statement: their columns come as one
#: value each, and of the bytes where each begins, times 2^20, and how many they are.
_INSERT_ALL = """
INSERT INTO record (branch, seq, digest, ident, standing, raw)
SELECT ?, ? + key, substr(?, key * 32 + 1, 32), substr(?, key * 16 + 1, 16), ?,
    substr(?, (value >> 20) + 1, value & 0xFFFFF)
FROM json_each(?)
"""


class Row(NamedTuple):
    """A record on its way to the disk: its place, what finds it again, its bytes."""

    branch: int
    seq: int
    digest: bytes
    ident: bytes
    standing: int
    raw: bytes


def judged(branch: int, seq: int, digest: bytes, raw: bytes, said: Seen) -> Row:
    """Return the row for `raw`, which says `said`."""
    if said.understood and said.id:
        return Row(branch, seq, digest, ids.in_bytes(said.id), COUNTS, raw)
    ident = ids.in_bytes(said.id) if said.id else sha256(raw).digest()[:16]
    return Row(branch, seq, digest, ident, NOT_UNDERSTOOD, raw)


def insert(connection: sqlite3.Connection, rows: Sequence[Row]) -> None:
    """Put `rows` of one branch in, in their order there.

    The same bytes count once; of several contents under an id one counts.
    """
    if not rows:
        return
    in_a_row = rows[-1].seq - rows[0].seq == len(rows) - 1
    if in_a_row and all(row.standing == COUNTS for row in rows):
        try:
            _insert_all(connection, rows)
        except sqlite3.IntegrityError:
            pass  # One of them is here already; SQLite took the whole statement back.
        else:
            return
    for row in rows:
        connection.execute(INSERT, row._replace(standing=COPY))
        settle_standing(connection, row.ident)


def _insert_all(connection: sqlite3.Connection, rows: Sequence[Row]) -> None:
    """Put rows in that all count, none of which is here yet.

    One statement for all takes half the time of one a row, and other threads work meanwhile.
    """
    branches, seqs, digests, idents, _, raws = zip(*rows, strict=True)
    begins = accumulate(map(len, raws), initial=0)
    where = [begin << 20 | len(raw) for begin, raw in zip(begins, raws, strict=False)]
    columns = (b"".join(digests), b"".join(idents), COUNTS, b"".join(raws), json.dumps(where))
    connection.execute(_INSERT_ALL, (branches[0], seqs[0], *columns))


class Placed(NamedTuple):
    """A row under an id; `branch` None where it has no place."""

    arrival: int
    branch: int | None
    standing: int
    raw: bytes


def of_ident(connection: sqlite3.Connection, ident: bytes) -> list[Placed]:
    """Return all rows under one id, those with a place first, then in order of arrival."""
    return [
        Placed(*row)
        for row in connection.execute(
            # In two halves, because each has an index of its own.
            "SELECT arrival, branch, standing, raw FROM "
            "(SELECT * FROM record WHERE ident = ? AND standing = 0 "
            "UNION ALL SELECT * FROM record WHERE ident = ? AND standing <> 0) "
            "ORDER BY branch IS NULL, arrival",
            (ident, ident),
        )
    ]


def settle_standing(connection: sqlite3.Connection, ident: bytes) -> None:
    """Judge all rows of one id together and keep what each is good for.

    The first row of each content stands for it; of contents that are understood, the one with
    the smallest SHA-256 counts.
    """
    rows = [row for row in of_ident(connection, ident) if row.standing != SET_ASIDE]
    firsts: dict[bytes, Placed] = {}
    for row in rows:
        firsts.setdefault(row.raw, row)
    rivals = [raw for raw in firsts if isinstance(decode(raw), Record)]
    counts = min(rivals, key=lambda raw: sha256(raw).digest(), default=None)
    wanted = [
        (
            COPY
            if firsts[row.raw] is not row
            else COUNTS
            if row.raw == counts
            else OTHER_CONTENT
            if row.raw in rivals
            else NOT_UNDERSTOOD,
            row,
        )
        for row in rows
    ]
    # What stops counting goes first: no two rows of one id count, not even for a moment.
    for standing, row in sorted(wanted, key=lambda each: each[0] == COUNTS):
        if row.standing != standing:
            connection.execute(
                "UPDATE record SET standing = ? WHERE arrival = ?", (standing, row.arrival)
            )
