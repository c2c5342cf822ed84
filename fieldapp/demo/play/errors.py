"""What can go wrong with the demo, each in words that say what to do."""

from __future__ import annotations


class DemoError(Exception):
    """Root of the demo's errors; the message is for the person at the terminal."""


class ServerDidNotStart(DemoError):
    """The server ended before it was ready; the message holds what it said."""


class PageRefused(DemoError):
    """The server did not show a page."""


class NotOnScreen(DemoError):
    """Something that the play looked for does not stand on the screen."""


class NoWindow(DemoError):
    """No window can be made on this machine."""

    def __init__(self) -> None:
        super().__init__(
            "No window can be made here, not even off screen. "
            "On Debian: sudo apt-get install libgl1 libegl1, then try again."
        )


class NotSynced(DemoError):
    """A phone did not come to hold the same as the server."""
