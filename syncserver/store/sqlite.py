"""The default store: one SQLite file."""

from __future__ import annotations

import hmac
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlite_utils import Database

from syncserver.store.errors import NameTaken, StoreBroken
from syncserver.store.schema import migrate
from syncserver.store.store import CodeState, Device, Operation, Purpose, Session

_DEVICE = "SELECT id, operation, name, paired, seen, revoked, rules, library FROM device"


class SqliteStore:
    """A `Store` in one SQLite file.

    One connection behind one lock: what the store is asked takes microseconds and comes once a
    request, so readers gain nothing from connections of their own. Other processes (the command
    line beside a running server) are held apart by SQLite's own locks.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._lock = threading.Lock()
        try:
            self._db = Database(
                sqlite3.connect(path, isolation_level=None, check_same_thread=False),
                execute_plugins=False,
            )
            path.chmod(0o600)
            for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
                self._db.execute(f"PRAGMA {pragma}")
            self._db.execute("PRAGMA busy_timeout=5000")
            migrate(self._db)
        except sqlite3.Error as wrong:
            raise self._broken(wrong) from wrong

    def add_operation(self, operation: Operation) -> None:
        """Add an operation; raise `NameTaken` where another has its name."""
        with self._writing() as db:
            if db.execute("SELECT 1 FROM operation WHERE name=?", (operation.name,)).fetchone():
                raise NameTaken(
                    f"There is an operation called {operation.name!r} already.",
                    "Choose another name.",
                )
            db.execute("INSERT INTO operation VALUES (?, ?, ?, NULL)", operation)

    def operations(self) -> list[Operation]:
        """Return all operations, oldest first."""
        rows = self._read("SELECT id, name, created FROM operation ORDER BY created, rowid")
        return [Operation(**row) for row in rows]

    def operation(self, operation: str) -> Operation | None:
        """Return one operation by id."""
        rows = self._read("SELECT id, name, created FROM operation WHERE id=?", operation)
        return Operation(**rows[0]) if rows else None

    def add_code(self, digest: bytes, operation: str, purpose: Purpose, expires: int) -> None:
        """Add a one-time code, known by its digest."""
        with self._writing() as db:
            db.execute(
                "INSERT INTO code VALUES (?, ?, ?, ?, 0, 0)", (digest, operation, purpose, expires)
            )

    def redeem(self, digest: bytes, purpose: Purpose, now: int, guesses: int) -> CodeState:
        """Use a code up; see `Store.redeem`."""
        with self._writing() as db:
            found: tuple[bytes, str, int, int, int] | None = None
            for row in db.execute(
                "SELECT digest, operation, expires, wrong, used FROM code WHERE purpose=?",
                (purpose,),
            ):
                if hmac.compare_digest(row[0], digest):
                    found = row
            if found is None:
                db.execute("UPDATE code SET wrong=wrong+1 WHERE purpose=?", (purpose,))
                return CodeState(None, "wrong")
            _, operation, expires, wrong, used = found
            if used:
                return CodeState(None, "used")
            if now >= expires or wrong >= guesses:
                return CodeState(None, "late")
            db.execute("UPDATE code SET used=1 WHERE digest=?", (digest,))
            return CodeState(operation, "")

    def add_device(self, device: Device, token: bytes) -> None:
        """Add a paired device and the digest of its token."""
        with self._writing() as db:
            db.execute(
                "INSERT INTO device (id, operation, name, paired, seen, revoked, rules, library, "
                "token) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                (*device, token),
            )

    def device(self, token: bytes) -> Device | None:
        """Return the device with this token digest, revoked or not."""
        rows = self._read(f"{_DEVICE} WHERE token=?", token)
        return Device(**rows[0]) if rows else None

    def devices(self) -> list[Device]:
        """Return all devices, oldest first."""
        return [Device(**row) for row in self._read(f"{_DEVICE} ORDER BY paired, rowid")]

    def revoke(self, device: str, now: int) -> bool:
        """Revoke a device's token; tell whether there was such a device, not yet revoked."""
        with self._writing() as db:
            done = db.execute(
                "UPDATE device SET revoked=? WHERE id=? AND revoked IS NULL", (now, device)
            )
            return done.rowcount == 1

    def seen(self, device: str, now: int) -> None:
        """Note when a device was last there."""
        with self._writing() as db:
            db.execute("UPDATE device SET seen=? WHERE id=?", (now, device))

    def computes(self, device: str, rules: int, library: str) -> None:
        """Note by which rules and library a device computes."""
        with self._writing() as db:
            db.execute("UPDATE device SET rules=?, library=? WHERE id=?", (rules, library, device))

    def set_password(self, operation: str, argon2: str) -> None:
        """Set the page password of an operation and end its sessions."""
        with self._writing() as db:
            db.execute("UPDATE operation SET password=? WHERE id=?", (argon2, operation))
            db.execute("DELETE FROM session WHERE operation=?", (operation,))

    def password(self, operation: str) -> str | None:
        """Return the argon2 hash of an operation's page password, if one is set."""
        rows = self._read("SELECT password FROM operation WHERE id=?", operation)
        return rows[0]["password"] if rows else None

    def add_session(self, digest: bytes, session: Session) -> None:
        """Add a browser session, known by the digest of its id."""
        with self._writing() as db:
            db.execute("INSERT INTO session VALUES (?, ?, ?)", (digest, *session))

    def session(self, digest: bytes, now: int) -> Session | None:
        """Return a session that has not expired."""
        rows = self._read(
            "SELECT operation, expires FROM session WHERE digest=? AND expires>?", digest, now
        )
        return Session(**rows[0]) if rows else None

    def end_session(self, digest: bytes) -> None:
        """End a session; one that is not there is no error."""
        with self._writing() as db:
            db.execute("DELETE FROM session WHERE digest=?", (digest,))

    def copy_to(self, path: str) -> None:
        """Write a consistent copy of everything into a new file."""
        with self._lock:
            try:
                self._db.execute("VACUUM INTO ?", (path,))
            except sqlite3.Error as wrong:
                raise self._broken(wrong) from wrong

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._db.close()

    @contextmanager
    def _writing(self) -> Iterator[Database]:
        """Hold one BEGIN IMMEDIATE transaction: on disk when left, undone when an error leaves."""
        with self._lock:
            try:
                self._db.execute("BEGIN IMMEDIATE")
                yield self._db
                self._db.execute("COMMIT")
            except sqlite3.Error as wrong:
                raise self._broken(wrong) from wrong
            finally:
                self._db.rollback()  # Does nothing where all was committed.

    def _read(self, sql: str, *values: object) -> list[dict[str, Any]]:
        with self._lock:
            try:
                return list(self._db.query(sql, values))
            except sqlite3.Error as wrong:
                raise self._broken(wrong) from wrong

    def _broken(self, wrong: sqlite3.Error) -> StoreBroken:
        return StoreBroken(
            f"The server's file {self._path} cannot be used: {wrong}.",
            "Is the disk full, or the folder read-only? The journals are not touched; a backup "
            "can be brought back with `restore`.",
        )
