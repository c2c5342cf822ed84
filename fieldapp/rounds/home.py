"""At home: pairing with the server once, syncing, and what came of it, in words."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property, partial
from typing import TYPE_CHECKING, Protocol

from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, count, say

if TYPE_CHECKING:
    from fieldapp.rounds.odd import Part
    from fieldapp.rounds.question import Questions
    from fieldapp.sync import Meeting, Outcome, Progress, Sync
    from fieldapp.wire.announcement import Announced

#: Runs a function away from the screen's thread.
Background = Callable[[Callable[[], None]], None]
#: Runs a function on the screen's thread, soon.
Main = Callable[[Callable[[], None]], None]


class Shown(Protocol):
    """Something that is told to show the home page anew."""

    def __call__(self) -> None:
        """Show it anew."""


class Home:
    """Pairing and sync. `changed` is called on the main thread whenever the state is new.

    `load_sync` is called at the first use: the first page does not wait for it. `apart` holds
    the server's apiaries while two sides with records wait for the keeper's word; `heard` the
    servers that announce themselves.
    """

    def __init__(
        self,
        notebook: Notebook,
        load_sync: Callable[[], Sync],
        *,
        background: Background,
        main: Main,
    ) -> None:
        self._notebook = notebook
        self._load_sync = load_sync
        self._background = background
        self._to_main = main
        self._over = False
        self.changed: Shown = _nothing
        self.after_sync: Shown = _nothing
        self.busy: Phrase | None = None
        self.done = 0
        self.total = 0
        self.outcome: Outcome | None = None
        self.trouble: tuple[Phrase, Phrase] | None = None
        self.met: Phrase | None = None
        self.apart: tuple[str, ...] | None = None
        self.listening = False
        self.heard: tuple[Announced, ...] = ()

    @cached_property
    def questions(self) -> Questions:
        """What only the keeper can answer."""
        from fieldapp.rounds.question import Questions

        return Questions(self._notebook)

    @cached_property
    def _sync(self) -> Sync:
        return self._load_sync()

    @property
    def server(self) -> str | None:
        """The name of the paired server."""
        pairing = self._sync.pairing
        return None if pairing is None else str(pairing.server)

    def called(self, name: str) -> None:
        """Call this phone by another name when it is next paired."""
        self._sync.device_name = name

    @property
    def own_apiaries(self) -> list[str]:
        """The names of the apiaries on this phone, to be shown beside the server's."""
        book = self._notebook.book
        return [place.name for place in book.apiaries(self._notebook.today())]

    @property
    def records(self) -> int:
        """How many records this phone holds."""
        return self._notebook.journal.count()

    @property
    def odd(self) -> list[Phrase]:
        """What stays in sight until it is dealt with: not understood, refused, or altered."""
        from fieldapp.journal.refusals import refused
        from fieldapp.journal.remains import asides

        journal = self._notebook.journal
        unread = len(journal.not_understood())
        here, there = len(refused(journal, "us")), len(refused(journal, "them"))
        told = (
            count(
                "{n} record is not understood by this version: kept and passed on as it is",
                "{n} records are not understood by this version: kept and passed on as they are",
                unread,
            ),
            count(
                "{n} record was refused by this phone: it did not come whole. Sync again.",
                "{n} records were refused by this phone: they did not come whole. Sync again.",
                here,
            ),
            count(
                "{n} record was refused by the server: it stays here. Bring the server up to date.",
                "{n} records were refused by the server: they stay here. "
                "Bring the server up to date.",
                there,
            ),
            count(
                "{n} record was altered behind this program: kept aside, counted in nothing. "
                "A sync brings back what the server holds.",
                "{n} records were altered behind this program: kept aside, counted in nothing. "
                "A sync brings back what the server holds.",
                len(asides(journal)),
            ),
        )
        return [phrase for phrase in told if phrase.number]

    def odd_parts(self) -> list[Part]:
        """Return the same record by record, each with its reason."""
        from fieldapp.rounds.odd import parts

        return parts(self._notebook.journal)

    def listen(self) -> None:
        """Hear for some seconds which servers announce themselves; `heard` grows meanwhile."""
        if self.listening:
            return
        self.listening, self.heard = True, ()
        self._background(self._listen)

    def pair(self, text: str, addresses: tuple[str, ...]) -> None:
        """Pair with the server whose code was typed, away from the screen's thread.

        It is at one of `addresses`; with none it is looked for.
        """
        if self.busy is not None:
            return
        self._begin(say("Looking for the server"))
        self._background(lambda: self._pair(text, addresses))

    def unpair(self) -> None:
        """Forget the server; the records stay."""
        self._sync.unpair()
        self.outcome = self.met = self.apart = None
        self.changed()

    def join(self) -> None:
        """Let this phone's records and the server's meet, then sync: the keeper said so."""
        self._sync.join()
        self.apart = None
        self.sync()

    def sync(self) -> None:
        """Sync with the paired server."""
        if self.busy is not None or self._sync.pairing is None:
            return
        self._begin(say("Syncing"))
        self._sync.start(
            lambda progress: self._main(lambda: self._progress(progress)),
            lambda outcome: self._main(lambda: self._ended(outcome)),
        )

    def _begin(self, phrase: Phrase) -> None:
        self.busy, self.done, self.total = phrase, 0, 0
        self.outcome = self.trouble = self.met = self.apart = None
        self.changed()

    def give_up(self) -> None:
        """Wait no longer for what goes on in the background: it went wrong in a way of its own."""
        self.busy = None

    def close(self) -> None:
        """Take in nothing any more of what goes on in the background: the files are closed."""
        self._over = True

    def _main(self, work: Callable[[], None]) -> None:
        self._to_main(lambda: None if self._over else work())

    def _listen(self) -> None:
        try:
            for one in self._sync.around():
                self._main(partial(self._hears, one))
        finally:
            self._main(lambda: self._hears(None))

    def _hears(self, one: Announced | None) -> None:
        if one is None:
            self.listening = False
        else:
            self.heard = (*self.heard, one)
        self.changed()

    def _pair(self, text: str, addresses: tuple[str, ...]) -> None:
        from fieldapp.sync import SyncError

        try:
            meeting = self._sync.pair(text, *addresses)
        except SyncError as error:
            trouble = (error.phrase, error.advice)
            self._main(lambda: self._paired(None, None, trouble))
        else:
            met = say(
                "Paired with {operation}: {records} records there",
                operation=meeting.operation_name,
                records=meeting.records,
            )
            self._main(lambda: self._paired(meeting, met, None))

    def _paired(
        self,
        meeting: Meeting | None,
        met: Phrase | None,
        trouble: tuple[Phrase, Phrase] | None,
    ) -> None:
        self.busy = None
        if meeting is not None and not meeting.joined:
            self.apart = meeting.apiaries
        self.met, self.trouble = met, trouble
        self.changed()

    def _progress(self, progress: Progress) -> None:
        self.busy, self.done, self.total = progress.phrase, progress.done, progress.total
        self.changed()

    def _ended(self, outcome: Outcome) -> None:
        self.busy = None
        self.outcome = outcome
        self._notebook.book.refresh()
        if outcome.clock_ms is not None:
            from fieldapp.rounds.clock_question import ClockQuestion

            ClockQuestion(self._notebook).heard(outcome.clock_ms)
        self.after_sync()
        self.changed()


def _nothing() -> None:
    """Nobody is looking."""
