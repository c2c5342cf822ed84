"""The keys for louder and softer, where they reach no window by themselves."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

#: Is told which key, and whether it went down or up; on whatever thread the device calls.
Moved = Callable[[int, bool], None]


class VolumeKeys(Protocol):
    """Gives the volume keys to whoever asks for them, and back to the system."""

    def give_to(self, moved: Moved | None) -> None:
        """Tell `moved` of the keys, and leave the volume as it is; None: the system has them."""


class KeysOfWindow:
    """A computer, whose window is told of these keys as of any other."""

    def give_to(self, moved: Moved | None) -> None:
        """Do nothing."""
