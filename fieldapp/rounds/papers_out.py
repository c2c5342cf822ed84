"""What leaves the phone as a file: the record book, the calendar, a backup; and a backup back.

Files are made in a folder of their own, named by day, and never overwrite the records. Making
them needs no signal. What takes long runs away from the screen's thread.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from fieldapp.device.alarms import Alarm
from fieldapp.device.picking import ANY, PICKED, Not, Picking
from fieldapp.device.sharing import Sharing
from fieldapp.journal.errors import JournalError
from fieldapp.journal.files import Files
from fieldapp.rounds.home import Background, Main
from fieldapp.rounds.hours import Hours
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, Speech, count, say

_BACKUPS = "backup *.zip"
_MEDIA = {".pdf": "application/pdf", ".zip": "application/zip", ".ics": "text/calendar"}


class Out(NamedTuple):
    """What came of it: whether it worked, in words, and the files made."""

    ok: bool
    words: Phrase
    files: tuple[Path, ...] = ()


class Papers:
    """Makes files in `folder`. `changed` is called on the main thread when one is done."""

    def __init__(
        self,
        notebook: Notebook,
        speech: Speech,
        folder: Path,
        files: Files,
        *,
        sharing: Sharing,
        picking: Picking,
        background: Background,
        main: Main,
    ) -> None:
        self._notebook = notebook
        self._speech = speech
        self.folder = folder
        self._files = files
        self.sharing = sharing
        self.picking = picking
        self._background = background
        self._main = main
        self.changed: Callable[[], None] = _nothing
        self.busy: Phrase | None = None
        self.out: Out | None = None

    @property
    def place(self) -> str:
        """The folder as a page shows it: its last two names."""
        return f"{self.folder.parent.name}/{self.folder.name}"

    def record_book(self, apiary: str | None) -> None:
        """Make the record book of an apiary, or of all, as PDF and as CSV tables."""
        day = self._notebook.today(apiary)  # the book is asked on this thread only
        self._do(say("Making the record book"), lambda: self._record_book(day, apiary))

    def calendar(self) -> None:
        """Make the due dates as a calendar file."""
        from fieldapp.calendar import of_book  # noqa: PLC0415  (loaded at first use)

        notebook = self._notebook
        now = datetime.fromtimestamp(0, UTC) + timedelta(microseconds=notebook.clock.now_us())
        alarm = timedelta(hours=Hours.kept(notebook.local).rings.hour)
        raw = of_book(notebook.book, notebook.today(), speech=self._speech, now=now, alarm=alarm)
        self._do(say("Making the calendar file"), lambda: self._calendar(raw))

    def backup(self) -> None:
        """Make a backup of all records in one file, read back and checked."""
        self._do(say("Making a backup"), self._backup)

    def send(self, file: Path) -> None:
        """Put a file that was made where other programs find it, and offer to send it."""
        files = self.out.files if self.out else ()
        where = self.sharing.share(file.name, _MEDIA[file.suffix], file.read_bytes())
        if where:
            self.out = Out(True, say("{file} is where other programs find it.", file=where), files)
        else:
            words = say("{file} could not be given to another program.", file=file.name)
            self.out = Out(False, words, files)
        self.changed()

    def to_calendar(self, alarm: Alarm) -> None:
        """Offer one day to the phone's own calendar."""
        if not self.sharing.to_calendar(alarm.title, alarm.text, alarm.at.date()):
            self.out = Out(False, say("No calendar was found on this phone."))
            self.changed()

    def backups(self) -> list[Path]:
        """Return the backups in the folder, newest first."""
        return sorted(self.folder.glob(_BACKUPS), reverse=True)

    def restore(self, source: Path) -> None:
        """Bring the records of a backup back; what is here stays, nothing is doubled."""
        self._do(say("Bringing the backup back"), lambda: self._restore(source))

    def pick(self) -> None:
        """Let a backup be picked among the device's files, and bring it back."""
        if not self.picking.pick(
            ANY, self.folder / PICKED, lambda found: self._main(lambda: self._picked(found))
        ):
            self.out = Out(False, say("This device has no choice of files for this program."))
            self.changed()

    def _picked(self, found: Path | Not) -> None:
        if isinstance(found, Path):
            self._do(say("Bringing the backup back"), lambda: self._restore_copy(found))
            return
        self.out = Out(True, say("No file was picked. Nothing was changed."))
        if found == "unread":
            words = say("The file could not be read to its end. Nothing was changed.")
            self.out = Out(False, words)
        self.changed()

    def give_up(self) -> None:
        """Wait no longer for what is being made: it went wrong in a way of its own."""
        self.busy = None

    def _do(self, busy: Phrase, work: Callable[[], Out]) -> None:
        if self.busy is not None:
            return
        self.busy, self.out = busy, None
        self.changed()

        def run() -> None:
            try:
                out = work()
            except JournalError as error:
                out = Out(False, error.phrase)
            except OSError as error:
                out = Out(
                    False,
                    say(
                        "{folder} cannot be written to ({why}). Nothing was made, nothing lost.",
                        folder=str(self.folder),
                        why=error.strerror or "",
                    ),
                )
            self._main(lambda: self._done(out))

        self._background(run)

    def _done(self, out: Out) -> None:
        self.busy, self.out = None, out
        self._notebook.book.refresh()
        self.changed()

    def _record_book(self, day: date, apiary: str | None) -> Out:
        from fieldapp.papers import gather, record_book  # noqa: PLC0415
        from fieldapp.papers.pdf import as_pdf  # noqa: PLC0415
        from fieldapp.papers.tables_csv import as_archive  # noqa: PLC0415

        book = record_book(gather(self._notebook.journal), day, apiary)
        name = f"record book {day.isoformat()}"
        pdf = self._put(f"{name}.pdf", as_pdf(book, self._speech))
        tables = self._put(f"{name} csv.zip", as_archive(book, self._speech))
        return Out(True, say("The record book is made: PDF, and CSV tables."), (pdf, tables))

    def _calendar(self, raw: bytes) -> Out:
        file = self._put("due dates.ics", raw)
        return Out(True, say("The due dates are a calendar file now."), (file,))

    def _backup(self) -> Out:
        from fieldapp.journal.backup import backup  # noqa: PLC0415

        self.folder.mkdir(parents=True, exist_ok=True)
        moment = self._notebook.moment()
        name = f"backup {moment[:10]} {moment[11:16].replace(':', '')}.zip"
        made = backup(self._notebook.journal, self.folder / name, self._files)
        words = count(
            "A backup of {n} record is made and was read back whole.",
            "A backup of {n} records is made and was read back whole.",
            self._notebook.journal.count(),
        )
        if made.files:
            photos = count("{n} photo is in it.", "{n} photos are in it.", made.files)
            words = say("{told} {more}", told=words, more=photos)
        if made.away:
            photos = count(
                "{n} photo is not on this phone, and not in it.",
                "{n} photos are not on this phone, and not in it.",
                made.away,
            )
            words = say("{told} {more}", told=words, more=photos)
        return Out(True, words, (self.folder / name,))

    def _restore(self, source: Path) -> Out:
        from fieldapp.journal.backup import bring_in  # noqa: PLC0415

        with source.open("rb") as file:
            if file.read(2) != b"PK":  # what every ZIP archive begins with
                words = say("{file} is no backup. Nothing was changed.", file=source.name)
                return Out(False, words)
        before = self._notebook.journal.count()
        brought = bring_in(source, self._notebook.journal, self._files)
        new = self._notebook.journal.count() - before
        words = count("{n} record came back.", "{n} records came back.", new)
        if brought.files:
            photos = count("{n} photo came back.", "{n} photos came back.", brought.files)
            words = say("{told} {more}", told=words, more=photos) if new else photos
        if brought.faults:
            words = say("{came} Not all of the backup could be read.", came=words)
        elif not new and not brought.files:
            words = say("Everything in this backup is here already.")
        return Out(not brought.faults, words)

    def _restore_copy(self, copy: Path) -> Out:
        try:
            return self._restore(copy)
        finally:
            copy.unlink(missing_ok=True)

    def _put(self, name: str, raw: bytes) -> Path:
        self.folder.mkdir(parents=True, exist_ok=True)
        file = self.folder / name
        draft = file.with_name(file.name + ".new")
        draft.write_bytes(raw)
        draft.replace(file)
        return file


def _nothing() -> None:
    """Nobody is looking."""
