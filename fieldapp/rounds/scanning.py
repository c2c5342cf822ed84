"""A server's pairing code read from a photo of it, so that nobody has to type it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from fieldapp.device.camera import Left
from fieldapp.rounds.home import Background, Home
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.photo_file import NoPhoto, read_picture
from fieldapp.rounds.photos import Photos
from fieldapp.words import Phrase, say

_ASKED = "code photo"


class Scan:
    """Reads codes and pairs by them. `changed` is called on the main thread.

    `found` is true once a code was read: then `home` is pairing.
    """

    def __init__(
        self,
        notebook: Notebook,
        home: Home,
        photos: Photos,
        *,
        background: Background,
    ) -> None:
        self._local = notebook.local
        self._new_id = notebook.new_id
        self._home = home
        self.photos = photos
        self._background = background
        self._main = photos.on_main
        self.changed: Callable[[], None] = _nothing
        self.busy: Phrase | None = None
        self.told: Phrase | None = None
        self.found = False

    def begin(self) -> None:
        """Forget what came of the last one."""
        self.told, self.found = None, False

    def take(self) -> None:
        """Open the camera for a photo of the code. The photo is not kept."""
        if self.busy is not None:
            return
        # Where the system ended the program while the camera was open, one is left.
        self._drop(self._local.get(_ASKED))
        name = self._new_id()
        self._local.put(_ASKED, name)
        self.begin()
        self.photos.camera.take(name, lambda left: self._main(partial(self._left, name, left)))

    def choose(self, picture: Path) -> None:
        """Read the code in a picture of the folder for files."""
        self._read(lambda: read_picture(picture))

    def _left(self, name: str, left: Left) -> None:
        if left == "taken":
            self._read(lambda: self.photos.camera.taken(name), name)
            return
        self._drop(name)
        self.told = say("No photo was taken.")
        if left == "none":
            self.told = say("The camera did not open. Nothing was lost.")
        self.changed()

    def _drop(self, name: str | None) -> None:
        if name is not None:
            self.photos.camera.drop(name)
            self._local.put(_ASKED, None)

    def _read(self, load: Callable[[], bytes | None], name: str | None = None) -> None:
        if self.busy is not None:
            return
        self.begin()
        self.busy = say("Reading the code")
        self.changed()

        def work() -> None:
            words = _text_in(load)
            self._main(lambda: self._was_read(words, name))

        self._background(work)

    def _was_read(self, words: str | None, name: str | None) -> None:
        from fieldapp.wire.invitation import BadInvitation, read  # noqa: PLC0415  (after a scan)

        self.busy = None
        self._drop(name)
        try:
            invited = read(words) if words is not None else None
        except BadInvitation:
            self.told = say("This code is not one that a server of this program shows.")
        else:
            self.found = invited is not None
            if words is not None:
                self._home.pair(words, ())
            else:
                self.told = say(
                    "No code could be read. Hold the phone square to it, all of it in the photo, "
                    "without glare; or type it."
                )
        self.changed()


def _text_in(load: Callable[[], bytes | None]) -> str | None:
    from fieldapp.wire.qr import read  # noqa: PLC0415  (it loads Pillow)

    try:
        raw = load()
    except (OSError, NoPhoto):
        return None
    return read(raw) if raw is not None else None


def _nothing() -> None:
    """Nobody is looking."""
