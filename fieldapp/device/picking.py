"""Files that the keeper picks from the device: a picture, a backup."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Literal, Protocol

#: Media types to pick among.
PICTURES = ("image/jpeg", "image/png", "image/webp")
#: Programs name a backup's type in different ways: all are offered.
ANY = ("*/*",)

#: The folder for what was picked, in the folder for files: it is on its way there.
PICKED = "picked"

#: Nothing was picked, or what was picked could not be read.
Not = Literal["nothing", "unread"]
#: Called with the copy of what was picked, under its own name, or with why there is none.
OnPicked = Callable[[Path | Not], None]


class Picking(Protocol):
    """The system's own choice among files. `there` is false where a folder does it."""

    there: bool

    def pick(self, media: Sequence[str], folder: Path, picked: OnPicked) -> bool:
        """Let the keeper pick a file of one of these media types; return whether it opened.

        It is copied into `folder`. `picked` is called after that, perhaps on another thread.
        """


class NoPicking:
    """A computer: its files are put into a folder that every program reaches."""

    there = False

    def pick(self, media: Sequence[str], folder: Path, picked: OnPicked) -> bool:
        """Do nothing."""
        del media, folder, picked
        return False
