"""What an inspector is shown on this phone: gaps first, then each treatment of five years.

It only reads. While it is shown, the phone may be in another's hand: that is kept, so that the
program opens there again until its keeper leaves it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from fieldapp.journal.errors import JournalError
from fieldapp.rounds.home import Background, Main
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, Speech, count, say

if TYPE_CHECKING:
    from fieldapp.papers import RecordBook
    from fieldapp.papers.model import Event, Sign, Treated
    from fieldapp.papers.treatment_rows import Row

_KEPT = "shown to the inspector"
#: Treatments on one part: a small phone with large letters needs some seven pages for each.
AT_ONCE = 5


class Entry(NamedTuple):
    """A treatment or a line of the register: its day and hives, then line by line what it says."""

    title: Phrase
    lines: tuple[tuple[Sign, Phrase | str], ...]


class Shown(NamedTuple):
    """All that is shown: from when to when, what is missing, each treatment, the register.

    Of the register are colonies counted, movements and visits. Both begin with the latest.
    """

    tally: Phrase
    gaps: tuple[Phrase, ...]
    entries: tuple[Entry, ...]
    register: tuple[Entry, ...] = ()

    @property
    def parts(self) -> int:
        """In how many parts all of it is shown, none where there is nothing."""
        return _chunks(self.entries) + _chunks(self.register)

    def part(self, at: int) -> tuple[Entry, ...]:
        """Return one part: the treatments come first, then the register."""
        if at < _chunks(self.entries):
            return _chunk(self.entries, at)
        return _chunk(self.register, at - _chunks(self.entries))

    def begins_register(self, at: int) -> bool:
        """Whether a part is the first of the register."""
        return bool(self.register) and at == _chunks(self.entries)


def _chunks(entries: Sequence[Entry]) -> int:
    return -(-len(entries) // AT_ONCE)


def _chunk(entries: tuple[Entry, ...], at: int) -> tuple[Entry, ...]:
    return entries[at * AT_ONCE : (at + 1) * AT_ONCE]


class Inspector:
    """Reads the record book of an apiary, or of all, away from the screen's thread.

    `changed` is called on the main thread when it is read; `shown` is None until then.
    """

    def __init__(
        self, notebook: Notebook, speech: Speech, *, background: Background, main: Main
    ) -> None:
        self._notebook = notebook
        self._speech = speech
        self._background = background
        self._main = main
        self.changed: Callable[[], None] = _nothing
        self.shown: Shown | None = None
        self.trouble: Phrase | None = None
        self.apiary: str | None = None

    @property
    def goes_on(self) -> bool:
        """Whether this phone was being shown when it was last used."""
        return self._notebook.local.get(_KEPT) is not None

    @property
    def place(self) -> Phrase | str:
        """The name of what is shown."""
        name = self._notebook.place_name(self.apiary) if self.apiary else ""
        return name or say("All apiaries")

    def begin(self, apiary: str | None) -> None:
        """Begin to show an apiary, or all."""
        self._notebook.local.put(_KEPT, {"apiary": apiary})
        self._read(apiary)

    def go_on(self) -> None:
        """Show again what was being shown."""
        kept: Mapping[str, Any] = self._notebook.local.get(_KEPT) or {}
        self._read(kept.get("apiary"))

    def leave(self) -> None:
        """Show nothing any more: the phone is in its keeper's hand."""
        self._notebook.local.put(_KEPT, None)
        self.shown = self.trouble = None

    def _read(self, apiary: str | None) -> None:
        self.apiary, self.shown, self.trouble = apiary, None, None
        day = self._notebook.today(apiary)  # the book is asked on this thread only

        def run() -> None:
            from fieldapp.papers import gather, record_book  # noqa: PLC0415  (at first use)

            try:
                book = record_book(gather(self._notebook.journal), day, apiary)
                shown = _shown(book, self._speech)
            except JournalError as error:
                phrase = error.phrase
                self._main(lambda: self._done(None, phrase))
            else:
                self._main(lambda: self._done(shown, None))

        self._background(run)

    def _done(self, shown: Shown | None, trouble: Phrase | None) -> None:
        self.shown, self.trouble = shown, trouble
        self.changed()


def _shown(book: RecordBook, speech: Speech) -> Shown:
    from fieldapp.papers.register import together  # noqa: PLC0415  (at first use)
    from fieldapp.papers.treatment_rows import treatment_rows  # noqa: PLC0415

    lots = {lot.id: speech(lot.name) for each in book.treated for lot in each.lots}
    days: dict[tuple[date, str], list[Treated]] = {}
    for each in book.treated:
        days.setdefault((each.day, each.apiary), []).append(each)
    entries = [
        _entry(row, place if book.apiary is None else "")
        for (_, place), treated in sorted(days.items(), key=lambda at: at[0], reverse=True)
        for row in treatment_rows(treated, lots)
    ]
    tally = count(
        "{first} to {day}: {n} record",
        "{first} to {day}: {n} records",
        book.tally.records,
        first=book.first,
        day=book.day,
    )
    register = [
        _line(each, hives, each.apiary if book.apiary is None else "")
        for each, hives in reversed(together(book.register))
    ]
    gaps = tuple(each.words for each in book.gaps)
    return Shown(tally, gaps, tuple(entries), tuple(register))


def _line(event: Event, hives: Sequence[str], place: str) -> Entry:
    """Return a line of the register, with all hives of which it says the same."""
    title = say("{day}: {what}", day=event.day, what=event.what)
    if hives:
        title = say("{title}, hive {hives}", title=title, hives=", ".join(hives))
    if place:
        title = say("{title}, {apiary}", title=title, apiary=place)
    lines: list[tuple[Sign, Phrase | str]] = [("", event.words)]
    if event.person:
        lines.append(("", say("By: {what}", what=event.person)))
    return Entry(title, tuple(lines))


def _entry(row: Row, place: str) -> Entry:
    """Return a line of the treatments' table as lines under each other."""
    day, hives, what, course, amount, lot, withdrawal, honey, person, remarks = (
        (sign, _joined(phrases)) for sign, phrases in row
    )
    title = say("{day}: hive {hives}", day=day[1], hives=hives[1])
    if place:
        title = say("{title}, {apiary}", title=title, apiary=place)
    lines = [
        what,
        (amount[0], say("How much: {what}", what=amount[1])),
        (lot[0], say("Lot: {what}", what=lot[1])),
        (person[0], say("By: {what}", what=person[1])),
        (withdrawal[0], say("Honey withheld: {what}", what=withdrawal[1])),
        (honey[0], say("Honey from: {what}", what=honey[1])),
        course,
        remarks,
    ]
    return Entry(title, tuple((sign, words) for sign, words in lines if words))


def _joined(phrases: Sequence[Phrase]) -> Phrase | str:
    told: Phrase | str = ""
    for phrase in phrases:
        told = say("{first}; {then}", first=told, then=phrase) if told else phrase
    return told


def _nothing() -> None:
    """Nobody is looking."""
