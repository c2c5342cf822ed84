"""The marker file beside a journal: it shows that journal and device belong together.

It is never in a backup. Where it is missing or says something else, the file was copied or
restored, and a new writer begins. It also says whether the journal was closed in order: if
not, and SQLite's write-ahead log is gone, the newest records went with it.
"""

from __future__ import annotations

import os
from pathlib import Path


def path_of(journal: Path) -> Path:
    """Return where the marker of `journal` stands."""
    return journal.with_name(journal.name + ".marker")


def read(journal: Path) -> tuple[str, bool]:
    """Return the marker (empty where there is none) and whether the journal was closed."""
    try:
        text = path_of(journal).read_text("ascii")
    except (FileNotFoundError, UnicodeDecodeError):
        return "", True
    marker, _, state = text.strip().partition(" ")
    return marker, state != "open"


def write(journal: Path, marker: str, closed: bool) -> None:
    """Write the marker so that it is whole or the old one, whenever the power fails."""
    target = path_of(journal)
    draft = target.with_name(target.name + ".new")
    with draft.open("w", encoding="ascii") as file:
        file.write(f"{marker} {'closed' if closed else 'open'}\n")
        file.flush()
        os.fsync(file.fileno())
    draft.replace(target)
