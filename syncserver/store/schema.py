"""The tables of the SQLite store, version by version."""

from __future__ import annotations

import sqlite3

_VERSIONS = (
    """
    CREATE TABLE operation (
        id TEXT PRIMARY KEY, name TEXT NOT NULL UNIQUE, created INTEGER NOT NULL, password TEXT
    ) STRICT;
    CREATE TABLE code (
        digest BLOB PRIMARY KEY, operation TEXT NOT NULL REFERENCES operation,
        purpose TEXT NOT NULL CHECK (purpose IN ('device', 'page')), expires INTEGER NOT NULL,
        wrong INTEGER NOT NULL, used INTEGER NOT NULL
    ) STRICT;
    CREATE TABLE device (
        id TEXT PRIMARY KEY, operation TEXT NOT NULL REFERENCES operation, name TEXT NOT NULL,
        paired INTEGER NOT NULL, seen INTEGER, revoked INTEGER, token BLOB NOT NULL UNIQUE
    ) STRICT;
    CREATE TABLE session (
        digest BLOB PRIMARY KEY, operation TEXT NOT NULL REFERENCES operation,
        expires INTEGER NOT NULL
    ) STRICT;
    """,
    """
    ALTER TABLE device ADD COLUMN rules INTEGER;
    ALTER TABLE device ADD COLUMN library TEXT;
    """,
)


def migrate(db: sqlite3.Connection) -> None:
    """Bring a store's file to the newest version; a file of a newer server is an error."""
    (version,) = db.execute("PRAGMA user_version").fetchone()
    if version > len(_VERSIONS):
        raise sqlite3.DatabaseError("it was written by a newer version of this program")
    for number, script in enumerate(_VERSIONS[version:], version + 1):
        db.executescript(f"BEGIN IMMEDIATE;{script};PRAGMA user_version={number};COMMIT;")
