"""By what a side computes: the number of its rules, and its treatment library."""

from __future__ import annotations

from typing import Literal, NamedTuple

Newer = Literal["", "ours", "theirs", "other"]


class Versions(NamedTuple):
    """`rules` counts up with each change of what the rules answer; `library` is as ``2026.1``."""

    rules: int
    library: str


def newer(ours: str, theirs: str) -> Newer:
    """Return whose library is newer, empty where they are one; `other` where none can be told."""
    if ours == theirs:
        return ""
    mine, other = _parts(ours), _parts(theirs)
    if mine is None or other is None or mine == other:
        return "other"
    return "ours" if mine > other else "theirs"


def _parts(library: str) -> tuple[int, ...] | None:
    parts = library.split(".")
    fits = all(part.isascii() and part.isdecimal() and len(part) < 10 for part in parts)
    return tuple(map(int, parts)) if fits else None
