"""The phone's notebook: the journal, the book kept from it, and who is writing.

Every use case writes through `Notebook.write`. When it returns, the records are on the disk
and the book knows them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from fieldapp.book.closed import ClosedBook
from fieldapp.book.sheet import Sheet
from fieldapp.journal import happened
from fieldapp.journal.errors import JournalError
from fieldapp.journal.ids import Entropy, uuid7
from fieldapp.journal.record import Draft, Record
from fieldapp.journal.store import Journal
from fieldapp.rounds.clock import Clock
from fieldapp.rounds.errors import NotSaved
from fieldapp.rounds.local import Local

if TYPE_CHECKING:  # what is read at the first need is loaded then
    from fieldapp.book.book import Book
    from fieldapp.book.shelf import Shelf
    from fieldapp.husbandry.library import Library
    from fieldapp.husbandry.published import Published

#: Is told of the records of each write.
Listener = Callable[[Sequence[Record]], None]


class Notebook:
    """Journal, book, library, clock and keeper in one place.

    `book` is opened, `load_library` and `load_published` are called at the first need: rules and
    library take longer than the first screen may. `zone` is the phone's own (IANA), for apiaries
    that have none.
    """

    def __init__(
        self,
        journal: Journal,
        book: ClosedBook,
        local: Local,
        *,
        clock: Clock,
        load_library: Callable[[], Library],
        load_published: Callable[[], Published],
        entropy: Entropy,
        zone: str,
    ) -> None:
        self.journal = journal
        self.local = local
        self.clock = clock
        self.zone = zone
        self._closed_book = book
        self._book: Book | None = None
        self._load_library = load_library
        self._load_published = load_published
        self._entropy = entropy
        self._listeners: list[Listener] = []

    @property
    def book(self) -> Book:
        """The book kept from the journal, opened when first asked for."""
        if self._book is None:
            self._book = self._closed_book.open()
        return self._book

    @property
    def is_open(self) -> bool:
        """Whether the book was opened yet."""
        return self._book is not None

    def get_ready(self) -> None:
        """Open the book, so that the first tap does not wait for it."""
        _ = self.book

    def sheet(self) -> Sheet:
        """Return what the first page tells of today, in the phone's own zone."""
        today = self.today()
        kept = self._closed_book.sheet(today) if self._book is None else None
        return self.book.sheet(today) if kept is None else kept

    def keep(self) -> None:
        """Write what is derived to the book's file; call it when nobody waits."""
        if self._book is not None:
            self._book.keep()
            self._book.keep_sheets(self.today())

    def close(self) -> None:
        """Keep what is derived and close the files in order."""
        self.keep()
        if self._book is not None:
            self._book.close()
        self.local.close()
        self.journal.close()

    @cached_property
    def library(self) -> Library:
        """The treatment library, read when first asked for."""
        return self._load_library()

    @cached_property
    def published(self) -> Published:
        """The tables of published figures, read when first asked for."""
        return self._load_published()

    @property
    def shelf(self) -> Shelf:
        """The books beside the hives: stock, gear, register, weather."""
        return self.book.shelf

    @property
    def keeper(self) -> str | None:
        """Id of the keeper whose phone this is; None before the first start is done."""
        keeper = self.local.get("keeper")
        return keeper if isinstance(keeper, str) else None

    @keeper.setter
    def keeper(self, keeper: str) -> None:
        self.local.put("keeper", keeper)

    def zone_of(self, apiary: str | None) -> str:
        """Return the time zone of an apiary, the phone's own where it has none."""
        place = self.book.place(apiary) if apiary is not None else None
        return (place.zone if place is not None else "") or self.zone

    def place_name(self, apiary: str) -> str:
        """Return the name of an apiary, empty where it is not known."""
        place = self.book.place(apiary)
        return place.name if place is not None else ""

    def country_of(self, apiary: str) -> str | None:
        """Return the country of an apiary, None where it is not known."""
        place = self.book.place(apiary)
        return (place.country if place is not None else "") or None

    @property
    def country(self) -> str | None:
        """The country of the apiary used last, else of the first that has one."""
        used, places = self.local.get("apiary"), self.sheet().places
        here = next((each.country for each in places if each.id == used), None)
        if here is None and isinstance(used, str):  # given up, or under another id
            here = self.country_of(used)
        return here or next((each.country for each in places if each.country), None)

    def today(self, apiary: str | None = None) -> date:
        """Return the civil date now, in the zone of the apiary or the phone."""
        return self._day(self.zone_of(apiary))

    def moment(self, apiary: str | None = None) -> str:
        """Return now as records say it."""
        return happened.format(self.clock.now_us(), self.zone_of(apiary))

    def new_id(self) -> str:
        """Return a fresh id, for a draft that another of the same transaction names."""
        return uuid7(self.clock.now_us() // 1000, self._entropy(10))

    def write(self, drafts: Sequence[Draft]) -> list[Record]:
        """Put drafts on the disk in one transaction, then bring the book up to date.

        Raises `NotSaved`, whose `phrase` says what to do; then nothing of `drafts` was kept.
        """
        try:
            records = self.journal.write(drafts)
        except JournalError as error:
            raise NotSaved(error.phrase) from error
        self.book.refresh()
        for listener in self._listeners:
            listener(records)
        return records

    def on_write(self, listener: Listener) -> None:
        """Call `listener` with the records of each write, after they are on the disk."""
        self._listeners.append(listener)

    def _day(self, zone: str) -> date:
        return happened.civil(happened.format(self.clock.now_us(), zone))
