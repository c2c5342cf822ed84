"""Keeps the pairing on the phone: one small file beside the journal, never in a backup."""

from __future__ import annotations

import json
import os
from pathlib import Path

from fieldapp.sync.outcome import Pairing


class PairingFile:
    """The file ``pairing.json``, readable by this app alone."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / "pairing.json"

    def read(self) -> Pairing | None:
        """Return the pairing; None where there is none or the file cannot be read."""
        try:
            return Pairing(**json.loads(self._path.read_text("utf-8")))
        except (OSError, ValueError, TypeError):
            return None

    def write(self, pairing: Pairing) -> None:
        """Keep a pairing; the old one stands until the new one is on disk."""
        draft = self._path.with_suffix(".new")
        draft.unlink(missing_ok=True)
        descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(descriptor, "w", encoding="utf-8") as file:
            json.dump(pairing._asdict(), file)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(self._path)

    def forget(self) -> None:
        """Forget server and token."""
        self._path.unlink(missing_ok=True)
