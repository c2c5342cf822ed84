"""Faults of the program itself: each is kept in a file beside the records, for who mends it."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from pathlib import Path

from fieldapp.words import Phrase, say

NAME = "faults.log"
#: Above this many bytes only the latest half is kept.
MOST = 200_000

#: What the keeper is told: what was wrong, what is sure, what to do.
WORDS: tuple[Phrase, ...] = (
    say("Something in the program went wrong that it was not made for. It goes on."),
    say("All that was written down before is on this phone. Look whether your last tap is."),
)


class FaultLog:
    """Writes faults to `file`; `now` gives the moment as records say it.

    `latest` is the name of what went wrong last, as who mends it wants to hear it.
    """

    def __init__(self, file: Path, now: Callable[[], str]) -> None:
        self.file = file
        self._now = now
        self.latest = ""

    def write(self, error: BaseException) -> bool:
        """Keep a fault with its traceback; return whether the disk took it. Never raises."""
        self.latest = f"{type(error).__name__}: {error}"[:200]
        try:
            told = "".join(traceback.format_exception(error))
            kept = self.file.read_bytes() if self.file.exists() else b""
            if len(kept) > MOST:
                kept = kept[-MOST // 2 :]
            entry = f"--- {self._now()}\n{told}\n".encode("utf-8", "backslashreplace")
            self.file.parent.mkdir(parents=True, exist_ok=True)
            self.file.write_bytes(kept + entry)
        except Exception:  # a fault while a fault is told must not hide it
            return False
        return True

    @property
    def where(self) -> Phrase:
        """Where the file is, in words."""
        folder = self.file.parent.name
        return say("What happened stands in {file}.", file=f"{folder}/{self.file.name}")
