"""Files that the keeper picks from the device: a picture, a backup."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

#: Called with the copy of what was picked and its name, or with None where nothing was.
OnPicked = Callable[[Path | None, str], None]

#: Media types to pick among. Programs name a backup's type in different ways: all are offered.
PICTURES = ("image/jpeg", "image/png", "image/webp")
ANY = ("*/*",)


class Picking(Protocol):
    """The system's own choice among files. `there` is false where a folder does it."""

    there: bool

    def pick(self, media: Sequence[str], into: Path, picked: OnPicked) -> bool:
        """Let the keeper pick a file of one of these media types; return whether it opened.

        It is copied to `into`. `picked` is called when that is done, perhaps on another thread.
        """


class NoPicking:
    """A computer: its files are put into a folder that every program reaches."""

    there = False

    def pick(self, media: Sequence[str], into: Path, picked: OnPicked) -> bool:
        """Do nothing."""
        del media, into, picked
        return False
