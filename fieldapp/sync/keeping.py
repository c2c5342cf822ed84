"""Keeps the pairing on the phone: one small file beside the journal, never in a backup."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

from fieldapp.sync.outcome import Pairing


class PairingFile:
    """The file ``pairing.json``, readable by this app alone.

    It also remembers, when the server is forgotten, which operation the phone's records are of.
    """

    def __init__(self, folder: Path) -> None:
        self._path = folder / "pairing.json"

    def read(self) -> Pairing | None:
        """Return the pairing; None where there is none or the file cannot be read."""
        try:
            return Pairing(**self._kept()["pairing"])
        except (KeyError, TypeError):
            return None

    def operation(self) -> str:
        """Return the operation of this phone's records, empty where it met none yet."""
        return str(self._kept().get("operation", ""))

    def write(self, pairing: Pairing) -> None:
        """Keep a pairing; the old one stands until the new one is on disk."""
        self._put({"operation": pairing.operation, "pairing": pairing._asdict()})

    def forget(self) -> None:
        """Forget server and token."""
        self._put({"operation": self.operation()})

    def _kept(self) -> dict[str, Any]:
        try:
            kept = json.loads(self._path.read_text("utf-8"))
        except (OSError, ValueError):
            return {}
        return kept if isinstance(kept, dict) else {}

    def _put(self, kept: dict[str, Any]) -> None:
        draft = self._path.with_suffix(".new")
        draft.unlink(missing_ok=True)
        descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(descriptor, "w", encoding="utf-8") as file:
            json.dump(kept, file)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(self._path)
