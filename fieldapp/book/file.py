"""The file in which a book keeps its states: what tables it has, and when it is made anew."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from fieldapp.journal.store import VOCABULARY

#: Changes whenever the rules, their words or the form of what is kept do: older files are made
#: anew.
RULES = "15"

_SCHEMA = """
CREATE TABLE meta (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
CREATE TABLE touch (of TEXT NOT NULL, record TEXT NOT NULL, day TEXT NOT NULL,
    stamp TEXT NOT NULL, PRIMARY KEY (of, record)) STRICT, WITHOUT ROWID;
CREATE TABLE correction (root TEXT NOT NULL, record TEXT NOT NULL, PRIMARY KEY (root, record))
    STRICT, WITHOUT ROWID;
CREATE TABLE annex (root TEXT NOT NULL, record TEXT NOT NULL, PRIMARY KEY (root, record))
    STRICT, WITHOUT ROWID;
CREATE TABLE used (key TEXT NOT NULL, hive TEXT NOT NULL, PRIMARY KEY (key, hive))
    STRICT, WITHOUT ROWID;
CREATE TABLE state (hive TEXT PRIMARY KEY, since INTEGER NOT NULL, recent TEXT NOT NULL,
    whole TEXT NOT NULL, lot TEXT NOT NULL) STRICT;
CREATE TABLE handover (root TEXT NOT NULL, place INTEGER NOT NULL, receiver TEXT NOT NULL,
    source TEXT NOT NULL, value TEXT NOT NULL, PRIMARY KEY (root, place, receiver)) STRICT;
CREATE INDEX handover_receiver ON handover (receiver);
CREATE INDEX handover_source ON handover (source);
CREATE TABLE mark (mark TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
CREATE TABLE sheet (day INTEGER PRIMARY KEY, value TEXT NOT NULL) STRICT;
"""


def stands(generation: int, others: int) -> str:
    """Return what is kept rests on beside the arrivals: where it is another, that is stale.

    `generation` is the journal's, `others` how many contents do not count in it.
    """
    return f"{VOCABULARY} {generation} {others}"


def opened(path: Path | None, rules: str) -> sqlite3.Connection:
    """Return the open file at `path` (None: the same in memory), an empty one where there is none.

    One that is damaged or was made by other `rules` is made anew. Raises `OSError` or
    `sqlite3.Error` where the disk lets none be made.
    """
    try:
        connection = _connected(path)
        if _is_of(connection, rules):
            return connection
        connection.close()
    except sqlite3.DatabaseError:
        pass
    return made_anew(path, rules)


def as_it_is(path: Path) -> sqlite3.Connection:
    """Return the open file at `path`, whatever it holds. Raises `sqlite3.Error` without one."""
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)


def made_anew(path: Path | None, rules: str) -> sqlite3.Connection:
    """Delete the file at `path`, which must be closed, and return an empty one."""
    if path is not None:
        for tail in ("", "-wal", "-shm"):
            path.with_name(path.name + tail).unlink(missing_ok=True)
    connection = _connected(path)
    connection.executescript(_SCHEMA)
    connection.execute("INSERT INTO meta VALUES ('rules', ?)", (rules,))
    return connection


def _connected(path: Path | None) -> sqlite3.Connection:
    connection = sqlite3.connect(path or ":memory:", isolation_level=None, check_same_thread=False)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = NORMAL")
    return connection


def _is_of(connection: sqlite3.Connection, rules: str) -> bool:
    try:
        row = connection.execute("SELECT value FROM meta WHERE name = 'rules'").fetchone()
    except sqlite3.OperationalError:
        return False
    return row is not None and row[0] == rules
