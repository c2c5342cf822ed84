"""The camera. It is opened and never waited for: what it left is looked for afterwards.

While the phone's camera program is in front the system may end this one. So a photo has a name
that the caller keeps: `taken` asks for it whenever there is time, at the next start too.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, Protocol

#: How the camera was left: with a photo, without one, or it did not open at all.
Left = Literal["taken", "cancelled", "none"]
OnLeft = Callable[[Left], None]

#: Bytes of a photo that are looked at, as the camera wrote it.
MOST = 64 * 2**20


class Camera(Protocol):
    """A camera that photos are asked of. `there` is false where the device has none for us."""

    @property
    def there(self) -> bool:
        """Whether there is a camera to open."""

    def take(self, name: str, left: OnLeft) -> None:
        """Open the camera for a photo called `name` and return at once.

        `left` is called when it was left, perhaps on another thread; not at all where the system
        ended this program meanwhile.
        """

    def taken(self, name: str) -> bytes | None:
        """Return what the camera wrote under `name`, None where it wrote nothing."""

    def drop(self, name: str) -> None:
        """Forget what the camera wrote under `name`."""


class NoCamera:
    """A device without a camera for us."""

    there = False

    def take(self, name: str, left: OnLeft) -> None:
        """Say that it did not open."""
        del name
        left("none")

    def taken(self, name: str) -> bytes | None:
        """Return None: nothing was taken."""
        del name
        return None

    def drop(self, name: str) -> None:
        """Do nothing."""
