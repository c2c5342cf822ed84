"""The tables of the SQLite store, version by version."""

from __future__ import annotations

import sqlite3

from sqlite_utils import Database, Migrations

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


def migrate(db: Database) -> None:
    """Bring a store's file to the newest version; a file of a newer server is an error.

    Files tell their version by ``user_version`` too: the first servers noted nothing else.
    """
    (version,) = db.execute("PRAGMA user_version").fetchone()
    if version > len(_VERSIONS):
        raise sqlite3.DatabaseError("it was written by a newer version of this program")
    if version == len(_VERSIONS):
        return
    # By hand, because two programs may begin at once and `apply` alone would read first.
    db.execute("BEGIN IMMEDIATE")
    try:
        (version,) = db.execute("PRAGMA user_version").fetchone()
        _migrations(version).apply(db)
        db.execute("COMMIT")
    except BaseException:
        db.rollback()
        raise


def _migrations(version: int) -> Migrations:
    """Return what brings a file of `version` up to date; what it has is noted as done."""
    migrations = Migrations("store")
    for number, script in enumerate(_VERSIONS, 1):
        statements = script.split(";") if number > version else []

        @migrations(name=str(number))
        def step(db: Database, number: int = number, statements: list[str] = statements) -> None:
            for statement in filter(str.strip, statements):
                db.execute(statement)
            db.execute(f"PRAGMA user_version={max(number, version)}")

    return migrations
