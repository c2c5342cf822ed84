"""The SQLite file of a journal: its tables, and how an older file is brought up to date.

``record`` holds the exact bytes of each record at its place; the columns beside them are an
index made from them. A row is never deleted, so that `arrival` numbers are never used twice.

``replica`` has one row: which branch is the own writer's, how many records it should have, the
last stamp, the marker, and how many rows were found gone (see `Journal.count`).

``branch`` is the tree of each writer's history: a branch begins at `first`, after the record
``first - 1`` of its `base`; a writer's own beginning has ``first = 1`` and no base. A branch
without base that begins later stands above a hole. Its end is its last record.

``hole`` is a stretch of one branch that is missing. Where a writer forked, two branches may lack
the same numbers: `digest` (of its first record, where it was altered) and `above` (of the record
right above it) tell which hole is whose.
"""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING, Final

from fieldapp.journal.errors import NotAJournal, TooNew

if TYPE_CHECKING:
    from sqlite_utils import Database

#: "ApRo" in ASCII, in the header of every journal file.
APPLICATION_ID: Final = 0x4170526F
VERSION: Final = 2

# What a row of ``record`` is good for. Of one id at most one row counts.
COUNTS: Final = 0
NOT_UNDERSTOOD: Final = 1
#: The same bytes as a row that counts or is not understood, at another place.
COPY: Final = 2
#: Another content under the id of a row that counts.
OTHER_CONTENT: Final = 3
#: Bytes that do not fit their digest, or over the size; without a place.
SET_ASIDE: Final = 4

_FIRST = """
CREATE TABLE record (
    arrival INTEGER PRIMARY KEY,
    branch INTEGER REFERENCES branch,
    seq INTEGER NOT NULL,
    digest BLOB NOT NULL,
    ident BLOB NOT NULL,
    standing INTEGER NOT NULL,
    raw BLOB NOT NULL,
    UNIQUE (branch, seq)
) STRICT;
CREATE UNIQUE INDEX record_counts ON record (ident) WHERE standing = 0;
CREATE INDEX record_other ON record (ident) WHERE standing <> 0;
CREATE TABLE branch (
    branch INTEGER PRIMARY KEY,
    writer BLOB NOT NULL,
    first INTEGER NOT NULL,
    base INTEGER REFERENCES branch
) STRICT;
CREATE INDEX branch_writer ON branch (writer);
CREATE TABLE replica (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    own INTEGER REFERENCES branch,
    own_seq INTEGER NOT NULL,
    stamp TEXT NOT NULL,
    marker TEXT NOT NULL,
    generation INTEGER NOT NULL,
    gone INTEGER NOT NULL,
    vocabulary TEXT NOT NULL
) STRICT;
INSERT INTO replica VALUES (1, NULL, 0, '0000000000000000', '', 1, 0, '');
CREATE TABLE hole (
    writer BLOB NOT NULL,
    first INTEGER NOT NULL,
    last INTEGER NOT NULL,
    before BLOB,
    digest BLOB,
    why TEXT NOT NULL,
    lost INTEGER NOT NULL DEFAULT 0,
    UNIQUE (writer, first, last)
) STRICT;
CREATE TABLE refusal (
    writer BLOB NOT NULL,
    seq INTEGER NOT NULL,
    by TEXT NOT NULL CHECK (by IN ('us', 'them')),
    why TEXT NOT NULL,
    size INTEGER NOT NULL,
    UNIQUE (writer, seq, by)
) STRICT;
CREATE TABLE remark (
    number INTEGER PRIMARY KEY,
    at INTEGER NOT NULL,
    what TEXT NOT NULL,
    detail TEXT NOT NULL
) STRICT;
"""

_HOLES_OF_FORKS = """
CREATE TABLE hole_2 (
    writer BLOB NOT NULL,
    first INTEGER NOT NULL,
    last INTEGER NOT NULL,
    before BLOB,
    digest BLOB,
    why TEXT NOT NULL,
    lost INTEGER NOT NULL DEFAULT 0,
    above BLOB
) STRICT;
INSERT INTO hole_2 SELECT hole.*, (
    SELECT record.digest FROM branch JOIN record USING (branch)
    WHERE branch.writer = hole.writer AND branch.base IS NULL
    AND branch.first = hole.last + 1 AND record.seq = branch.first
) FROM hole;
DROP TABLE hole;
ALTER TABLE hole_2 RENAME TO hole;
CREATE UNIQUE INDEX hole_once
    ON hole (writer, first, last, coalesce(digest, ''), coalesce(above, ''));
"""


def check(connection: sqlite3.Connection, path: str) -> bool:
    """Return whether the open file has this version's tables. Changes nothing.

    :raises NotAJournal: where the file is another program's database.
    :raises TooNew: where a later version of this program wrote it.
    """
    version: int = connection.execute("PRAGMA user_version").fetchone()[0]
    named: int = connection.execute("PRAGMA application_id").fetchone()[0]
    if named == APPLICATION_ID:
        if version > VERSION:
            raise TooNew(path)
        return version == VERSION
    begun = "SELECT count(*) FROM sqlite_schema WHERE name NOT LIKE '%sqlite_%'"
    if connection.execute(begun).fetchone()[0]:
        raise NotAJournal(path)
    return False


def migrate(connection: sqlite3.Connection) -> None:
    """Bring the open file to this version's tables."""
    # Costs 70 ms to import, several times that on a phone: only where there is work for it.
    from sqlite_utils import Database, Migrations  # noqa: PLC0415

    migrations = Migrations("journal")

    @migrations(name="1-tables")
    def tables(db: Database) -> None:
        _execute(db, _FIRST)
        db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        db.execute("PRAGMA user_version = 1")

    @migrations(name="2-holes-of-forks")
    def holes_of_forks(db: Database) -> None:
        _execute(db, _HOLES_OF_FORKS)
        db.execute("PRAGMA user_version = 2")

    migrations.apply(Database(connection, execute_plugins=False))


def _execute(db: Database, statements: str) -> None:
    # One by one: a script would end the transaction that a migration is in.
    for statement in statements.split(";\n"):
        if statement.strip():
            db.execute(statement)
