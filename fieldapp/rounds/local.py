"""What this phone keeps for itself: settings and where the keeper was. Never synced.

Nothing here is a truth about bees: losing the file costs a few taps. Each value is on the
disk when `put` returns.
"""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import Any

#: What this phone is called is kept under this name; where nobody named it, it is a `PHONE`.
DEVICE = "device"
PHONE = "phone"


class Local:
    """A small table of names and JSON values in one SQLite file."""

    def __init__(self, file: Path) -> None:
        self._connection = sqlite3.connect(file, isolation_level=None, check_same_thread=False)
        self._connection.execute("PRAGMA journal_mode = WAL")
        self._connection.execute("PRAGMA synchronous = FULL")
        self._connection.execute(
            "CREATE TABLE IF NOT EXISTS local (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT"
        )

    @classmethod
    def open(cls, file: Path) -> Local:
        """Open the file; a damaged one is set aside and begun anew, for it holds no truth."""
        try:
            return cls(file)
        except sqlite3.DatabaseError:
            file.replace(file.with_suffix(".damaged"))
            for rest in ("-wal", "-shm"):
                file.with_name(file.name + rest).unlink(missing_ok=True)
            return cls(file)

    def get(self, name: str, default: Any = None) -> Any:
        """Return the value kept under `name`."""
        row = self._connection.execute("SELECT value FROM local WHERE name = ?", (name,)).fetchone()
        return default if row is None else json.loads(row[0])

    def ending(self, tail: str) -> list[Any]:
        """Return the values kept under names that end in `tail`."""
        rows = self._connection.execute(
            "SELECT value FROM local WHERE substr(name, -length(:tail)) = :tail", {"tail": tail}
        )
        return [json.loads(value) for (value,) in rows]

    def put(self, name: str, value: Any) -> None:
        """Keep `value` under `name`; None forgets it."""
        if value is None:
            self._connection.execute("DELETE FROM local WHERE name = ?", (name,))
        else:
            self._connection.execute(
                "INSERT INTO local (name, value) VALUES (?, ?) "
                "ON CONFLICT (name) DO UPDATE SET value = excluded.value",
                (name, json.dumps(value)),
            )

    def close(self) -> None:
        """Close the file."""
        self._connection.close()
