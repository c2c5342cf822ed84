"""Rows of the journal's table of records: putting them in, and what each is good for."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from hashlib import sha256
from typing import NamedTuple

from fieldapp.journal import ids
from fieldapp.journal.record import NotUnderstood, Record, decode
from fieldapp.journal.schema import COPY, COUNTS, NOT_UNDERSTOOD, OTHER_CONTENT, SET_ASIDE

_INSERT = "INSERT INTO record (branch, seq, digest, ident, standing, raw) VALUES (?, ?, ?, ?, ?, ?)"


class Row(NamedTuple):
    """A record on its way to the disk: its place, what finds it again, its bytes."""

    branch: int
    seq: int
    digest: bytes
    ident: bytes
    standing: int
    raw: bytes


def judged(branch: int, seq: int, digest: bytes, raw: bytes, said: Record | NotUnderstood) -> Row:
    """Return the row for `raw`, which says `said`."""
    if type(said) is Record:
        return Row(branch, seq, digest, ids.in_bytes(said.id), COUNTS, raw)
    ident = ids.in_bytes(said.id) if said.id else sha256(raw).digest()[:16]
    return Row(branch, seq, digest, ident, NOT_UNDERSTOOD, raw)


def insert(connection: sqlite3.Connection, rows: Sequence[Row]) -> None:
    """Put `rows` in. The same bytes count once; of several contents under an id one counts."""
    if all(row.standing == COUNTS for row in rows):
        connection.execute("SAVEPOINT rows")
        try:
            connection.executemany(_INSERT, rows)
        except sqlite3.IntegrityError:
            connection.execute("ROLLBACK TO rows")
        else:
            connection.execute("RELEASE rows")
            return
        connection.execute("RELEASE rows")
    for row in rows:
        connection.execute(_INSERT, row._replace(standing=COPY))
        settle_standing(connection, row.ident)


def settle_standing(connection: sqlite3.Connection, ident: bytes) -> None:
    """Judge all rows of one id together and keep what each is good for.

    The first row of each content stands for it; of contents that are understood, the one with
    the smallest SHA-256 counts.
    """
    rows = connection.execute(
        "SELECT arrival, standing, raw FROM record WHERE ident = ?1 AND standing = 0 UNION ALL "
        "SELECT arrival, standing, raw FROM record WHERE ident = ?1 AND standing <> 0 "
        "ORDER BY arrival",
        (ident,),
    ).fetchall()
    now = {arrival: standing for arrival, standing, _ in rows if standing != SET_ASIDE}
    wanted: dict[int, int] = {}
    contents: dict[bytes, int] = {}
    for arrival, standing, raw in rows:
        if standing == SET_ASIDE:
            continue
        if raw in contents:
            wanted[arrival] = COPY
            continue
        contents[raw] = arrival
        understood = isinstance(decode(raw), Record)
        wanted[arrival] = OTHER_CONTENT if understood else NOT_UNDERSTOOD
    rivals = [raw for raw, arrival in contents.items() if wanted[arrival] == OTHER_CONTENT]
    if rivals:
        wanted[contents[min(rivals, key=lambda raw: sha256(raw).digest())]] = COUNTS
    # What stops counting goes first: no two rows of one id count, not even for a moment.
    for arrival, standing in sorted(wanted.items(), key=lambda item: item[1] == COUNTS):
        if now[arrival] != standing:
            connection.execute(
                "UPDATE record SET standing = ? WHERE arrival = ?", (standing, arrival)
            )
