"""What was refused, kept in sight with its place and reason, across restarts."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import Literal, NamedTuple

from fieldapp.journal.store import Journal

Why = Literal["too large", "not one line", "digest before", "digest after"]

#: Reasons that lie in a record; the others lie in how it came.
OF_A_RECORD: frozenset[Why] = frozenset(("too large", "not one line"))


class Refusal(NamedTuple):
    """A record that was not taken, with its place, why, and its size in bytes."""

    writer: bytes
    seq: int
    why: Why
    size: int


def refused(journal: Journal, by: Literal["us", "them"]) -> list[Refusal]:
    """Return what this replica refused (`us`), or another one of what was sent to it."""
    with journal.connections.reading() as connection:
        rows = connection.execute(
            "SELECT writer, seq, why, size FROM refusal WHERE by = ? ORDER BY writer, seq", (by,)
        )
        return [Refusal(*row) for row in rows]


def keep(journal: Journal, by: Literal["us", "them"], refusals: Iterable[Refusal]) -> None:
    """Keep `refusals` in the place of those kept before."""
    wanted = list(refusals)
    if wanted == refused(journal, by):
        return
    with journal.connections.writing() as connection:
        connection.execute("DELETE FROM refusal WHERE by = ?", (by,))
        for refusal in wanted:
            put(connection, by, refusal)


def put(connection: sqlite3.Connection, by: Literal["us", "them"], refusal: Refusal) -> None:
    """Keep one refusal, in the transaction of `connection`."""
    connection.execute(
        "INSERT OR REPLACE INTO refusal (writer, seq, why, size, by) VALUES (?, ?, ?, ?, ?)",
        (*refusal, by),
    )


def clear(connection: sqlite3.Connection, writer: bytes, first: int, last: int) -> None:
    """Forget what was refused here of records that have come after all."""
    connection.execute(
        "DELETE FROM refusal WHERE writer = ? AND seq BETWEEN ? AND ? AND by = 'us'",
        (writer, first, last),
    )
