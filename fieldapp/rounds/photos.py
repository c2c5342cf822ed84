"""Photos beside records: taken by the device's camera or picked, kept by their digest.

A photo is an annex: it adds to a record and replaces nothing. One that is taken while a form is
being answered waits with its answers, and goes along when they are saved.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from fieldapp.book import Entry
from fieldapp.device.camera import Camera, Left
from fieldapp.device.picking import PICKED, PICTURES, Not, Picking
from fieldapp.journal import happened
from fieldapp.journal.errors import JournalError
from fieldapp.journal.files import FileAltered, FileAway, Files
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.home import Background, Main
from fieldapp.rounds.look_form import Kept, photos_waiting
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.photo_annex import annex
from fieldapp.rounds.photo_file import MEDIA, as_kept, read_picture
from fieldapp.rounds.photo_removal import remove_files, voids
from fieldapp.words import Phrase, say

#: Names of pictures that a folder is searched for.
_PICTURES = (".jpg", ".jpeg", ".png", ".webp")
_WANTED = "photo wanted"

Act = Callable[[], None]


class PhotoPlace(NamedTuple):
    """What photos are put beside: the record `root`, or the form kept on the phone as `form`."""

    root: str = ""
    form: str = ""


class Photo(NamedTuple):
    """A photo as a page shows it: its bytes (a JPEG), or why there are none; and its day."""

    data: bytes | None
    words: Phrase
    digest: str


class _Made(NamedTuple):
    """A photo that was kept: the body of its annex, or why there is none; `again` if it may be."""

    body: dict[str, Any] | None
    told: Phrase | None
    again: bool = False


class Photos:
    """Takes photos and finds them again. `changed` is called on the main thread."""

    def __init__(
        self,
        notebook: Notebook,
        files: Files,
        folder: Path,
        *,
        camera: Camera,
        picking: Picking,
        background: Background,
        main: Main,
    ) -> None:
        self._notebook = notebook
        self._files = files
        self.folder = folder
        self.camera = camera
        self.picking = picking
        self._background = background
        self._to_main = main
        self._over = False
        self.changed: Callable[[], None] = _nothing
        self.busy: Phrase | None = None
        self.told: Phrase | None = None

    def close(self) -> None:
        """Take in nothing any more of what goes on in the background: the files are closed.

        What the camera left is kept at the next start.
        """
        self._over = True

    def on_main(self, work: Act) -> None:
        """Run `work` on the screen's thread, soon; not at all where the files are closed."""
        self._to_main(lambda: None if self._over else work())

    # -- taking

    def take(self, beside: PhotoPlace) -> None:
        """Open the camera; what it leaves is put beside that."""
        if self.busy is not None:
            return
        name = self._notebook.new_id()
        self._want([*self._wanted(), {"name": name, **beside._asdict()}])
        self.told = None
        self.camera.take(name, lambda left: self.on_main(lambda: self._left(name, left)))

    def go_on(self) -> None:
        """Keep what the camera left, if nobody did: the system may have ended this program."""
        for wanted in self._wanted()[:1]:
            self._keep_taken(wanted)

    def pick(self, beside: PhotoPlace) -> None:
        """Let a picture be picked among the device's own."""
        self.told = None
        if not self.picking.pick(
            PICTURES,
            self.folder / PICKED,
            lambda found: self.on_main(lambda: self._picked(beside, found)),
        ):
            self.told = say("This device has no choice of files for this program.")
            self.changed()

    def pictures(self) -> list[Path]:
        """Return the pictures in the folder for files, by name."""
        if not self.folder.is_dir():
            return []
        return sorted(each for each in self.folder.iterdir() if each.suffix.lower() in _PICTURES)

    def choose(self, beside: PhotoPlace, picture: Path) -> None:
        """Keep a picture of the folder; the picture itself stays."""
        self._keep(beside, lambda: read_picture(picture), _nothing)

    def _left(self, name: str, left: Left) -> None:
        if left == "taken":
            self.go_on()
            return
        self._want([each for each in self._wanted() if each["name"] != name])
        self.camera.drop(name)
        if left == "none":
            self.told = say("The camera did not open. Nothing was lost.")
        else:
            self.told = say("No photo was taken.")
        self.changed()

    def _keep_taken(self, wanted: dict[str, str]) -> None:
        name = wanted["name"]

        def forget() -> None:
            self._want([each for each in self._wanted() if each["name"] != name])
            self.camera.drop(name)

        self._keep(
            PhotoPlace(wanted["root"], wanted["form"]), lambda: self.camera.taken(name), forget
        )

    def _wanted(self) -> list[dict[str, str]]:
        """Return the photos that the camera was opened for and that are not kept yet."""
        return list(self._notebook.local.get(_WANTED, []))

    def _want(self, wanted: list[dict[str, str]]) -> None:
        self._notebook.local.put(_WANTED, wanted or None)

    def _picked(self, beside: PhotoPlace, found: Path | Not) -> None:
        if isinstance(found, Path):
            self._keep(beside, lambda: read_picture(found), lambda: found.unlink(missing_ok=True))
            return
        self.told = say("No picture was picked.")
        if found == "unread":
            self.told = say("The photo could not be read. Nothing was lost.")
        self.changed()

    def _keep(self, beside: PhotoPlace, load: Callable[[], bytes | None], after: Act) -> None:
        """Shrink and keep a photo away from the screen's thread; then write it down.

        `after` is called when that is done, or can never be done: not where the disk failed.
        """
        if self.busy is not None:
            return
        self.busy, self.told = say("Keeping the photo"), None
        self.changed()

        def work() -> None:
            kept = self._made(load)
            self.on_main(lambda: self._kept(beside, kept, after))

        self._background(work)

    def _made(self, load: Callable[[], bytes | None]) -> _Made:
        try:
            raw = load()
            if raw is None:
                return _Made(None, say("No photo was taken."))
            data = as_kept(raw)
            body = {"sha256": self._files.put(data), "type": MEDIA, "size": len(data)}
            return _Made(body, None)
        except RoundsError as error:
            return _Made(None, error.phrase)
        except JournalError as error:
            return _Made(None, error.phrase, again=True)
        except OSError:
            return _Made(None, say("The photo could not be read. Nothing was lost."), again=True)

    def _kept(self, beside: PhotoPlace, made: _Made, after: Act) -> None:
        self.told = made.told
        try:
            if made.body is not None:
                self._write(beside, made.body)
            if not made.again:
                after()
        except RoundsError as error:
            # What the camera left stays, and is kept when the program is in front again.
            self.told = error.phrase
        self.busy = None
        self.changed()

    def _write(self, beside: PhotoPlace, body: dict[str, Any]) -> None:
        if beside.form:
            form = Kept(self._notebook, beside.form)
            if all(each["sha256"] != body["sha256"] for each in form.photos):
                form.put_photos([*form.photos, body])
            return
        entry = self._notebook.book.entry(beside.root)
        if entry is None:
            self.told = say("The record is not here any more: the photo stands beside nothing.")
        elif all(each.body.get("sha256") != body["sha256"] for each in entry.annexes):
            self._notebook.write([annex(self._notebook, entry.holds, entry.root.id, body)])

    # -- finding

    def of(self, entry: Entry) -> list[Photo]:
        """Return the photos beside a record, oldest first."""
        return [
            self._photo(
                str(each.body["sha256"]), say("Photo, {day}", day=happened.civil(each.happened))
            )
            for each in entry.annexes
            if each.kind == "photo"
        ]

    def beside(self, beside: PhotoPlace) -> list[Photo]:
        """Return the photos beside a record, or those that wait with a form."""
        if beside.form:
            waiting = Kept(self._notebook, beside.form).photos
            return [
                self._photo(str(each["sha256"]), say("Photo, not saved yet")) for each in waiting
            ]
        entry = self._notebook.book.entry(beside.root)
        return self.of(entry) if entry is not None else []

    # -- taking back

    def take_back(self, beside: PhotoPlace, digest: str) -> None:
        """Have a photo stand there no longer; then its file goes, if nothing else names it.

        What was written of it stays in the journal, as a record that was taken back.
        """
        if beside.form:
            form = Kept(self._notebook, beside.form)
            form.put_photos([each for each in form.photos if each["sha256"] != digest])
        else:
            self._notebook.write(voids(self._notebook, beside.root, digest))
        self._tidy(digest)

    def tidy(self) -> None:
        """Remove the files of photos that were taken back on another phone, as a sync told."""
        self._tidy(None)

    def _tidy(self, digest: str | None) -> None:
        notebook = self._notebook
        waiting = photos_waiting(notebook)

        def work() -> None:
            try:
                remove_files(notebook.journal, self._files, digest, keep=waiting)
            except JournalError as error:
                told = error.phrase
                self.on_main(lambda: self._tell(told))

        self._background(work)

    def _tell(self, told: Phrase) -> None:
        self.told = told
        self.changed()

    def _photo(self, digest: str, words: Phrase) -> Photo:
        try:
            return Photo(self._files.read(digest), words, digest)
        except FileAway:
            words = say("{photo}: it is not on this device", photo=words)
        except FileAltered:
            words = say("{photo}: the file is damaged, it is not shown", photo=words)
        except JournalError as error:
            words = error.phrase
        return Photo(None, words, digest)


def _nothing() -> None:
    """Nobody is looking."""
