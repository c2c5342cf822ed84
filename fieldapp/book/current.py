"""Keeps each hive's state current: takes in what the journal gained, keeps states in a file.

What was kept and is damaged, or stands no longer, is folded anew from the journal.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable
from datetime import date
from functools import wraps
from pathlib import Path
from typing import Concatenate, ParamSpec, Self, TypeVar

from fieldapp.book.codec import Damaged
from fieldapp.book.collecting import uncollected
from fieldapp.book.file import stands
from fieldapp.book.keeping import Keeping
from fieldapp.book.sheet import Sheet
from fieldapp.book.shelf import Shelf
from fieldapp.husbandry.answers import Item
from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.recent import recent
from fieldapp.husbandry.shared import SHARED
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.record import Record
from fieldapp.journal.store import Journal

#: So many hives folded at once are kept at once.
_MANY = 20
#: More hives awake than this, and all sleep again once they are kept.
_AWAKE = 10

_B = TypeVar("_B", bound="Current")
_T = TypeVar("_T")
_P = ParamSpec("_P")


def or_anew(
    answer: Callable[Concatenate[_B, _P], _T],
) -> Callable[Concatenate[_B, _P], _T]:
    """Let an answer that meets damage in what was kept be given from states folded anew."""

    @wraps(answer)
    def answered(book: _B, /, *args: _P.args, **kwargs: _P.kwargs) -> _T:
        try:
            return answer(book, *args, **kwargs)
        except (Damaged, sqlite3.DatabaseError) as error:
            if not _is_damage(error):
                raise
            book._anew()
            return answer(book, *args, **kwargs)

    return answered


def _is_damage(error: Exception) -> bool:
    """Whether what was kept cannot be read; its kin are disks that are full and books closed."""
    return isinstance(error, Damaged) or type(error) is sqlite3.DatabaseError


class Current:
    """All states of one journal's hives, as current as the last `refresh`.

    States that are kept in the file are left asleep until a record touches their hive.
    """

    def __init__(self, journal: Journal, path: Path | None) -> None:
        """Join the parts; use `open` instead."""
        self._journal = journal
        self._keeps = path is not None
        try:
            self._keeping = Keeping(path, journal.by_ids, self._group)
        except (sqlite3.Error, OSError):
            self._keeps = False
            self._keeping = Keeping(None, journal.by_ids, self._group)
        self._changed: set[str] = set()
        self._of_day: tuple[int, list[HiveState]] | None = None
        self._sheets: dict[date, Sheet] = {}
        self._items: dict[str, tuple[HiveState, date, list[Item]]] = {}
        self._shelf = Shelf(self._on_shelf)
        self._others = self._count_others()
        try:
            goes_on = self._go_on()
        except (Damaged, sqlite3.DatabaseError):
            goes_on = False
        if not goes_on:
            self._begin()

    def _go_on(self) -> bool:
        """Take up what was kept; return False where nothing is, or it stands no longer."""
        meta = self._keeping.meta
        self._generation = self._journal.generation
        if not meta("arrival") or meta("stands") != stands(self._generation, self._others):
            return False
        self._arrival = int(meta("arrival"))
        self._operation = Operation(self._keeping, self._keeping.shared())
        return True

    def _begin(self) -> None:
        """Fold from the first record on."""
        self._keeping.begin_anew()
        self._operation = Operation()
        self._shelf = Shelf(self._on_shelf)
        self._arrival = 0
        self._generation = self._journal.generation
        self._others = self._count_others()
        self._changed = set()
        self._of_day = None
        self._sheets = {}

    def _anew(self) -> frozenset[str]:
        """Fold everything again, because what was kept is damaged; return every hive."""
        try:
            self._begin()
        except (sqlite3.Error, OSError):
            return self._go_on_in_memory()
        return self._refreshed()

    def _count_others(self) -> int:
        return len(self._journal.other_contents())

    def _group(self, hive: str) -> tuple[str, ...]:
        return self._operation.shared.same.group("hive", hive)

    def _on_shelf(self) -> Iterable[Record]:
        return self._keeping.on_shelf()

    @property
    def shelf(self) -> Shelf:
        """The books beside the hives: stock, gear, register, weather."""
        return self._shelf

    @classmethod
    @uncollected()
    def open(cls, journal: Journal, path: Path | None = None) -> Self:
        """Open the book of `journal`; states are kept at `path`, in memory where it is None.

        Deleting the file at `path` costs time, never truth.
        """
        book = cls(journal, path)
        book.refresh()
        if len(book._changed) >= _MANY:
            book.keep()
        return book

    def close(self) -> None:
        """Keep what changed and close the book; the journal stays open."""
        self.keep()
        self._keeping.close()

    def refresh(self) -> frozenset[str]:
        """Take in what the journal gained; return the hives whose state was folded anew.

        It is on no disk until `keep` or `close`: what is lost is folded again at the next start.
        """
        try:
            return self._refreshed()
        except (Damaged, sqlite3.DatabaseError) as error:
            if not _is_damage(error):
                raise
            return self._anew()

    @uncollected()
    def _refreshed(self) -> frozenset[str]:
        stale = self._journal.generation != self._generation
        records = [] if stale else self._gained()
        if records and self._count_others() != self._others:
            stale = True
        if stale or (self._keeping.meta("arrival") and any(map(_joins_ids, records))):
            self._begin()
            records = self._gained()
        if not records:
            return frozenset()
        arrival, taken = records[-1][0], [record for _, record in records]
        try:
            self._keeping.index(taken)
        except sqlite3.Error:
            return self._go_on_in_memory()
        self._keeping.batch = {record.id for record in taken}
        changed = self._operation.take(taken)
        self._keeping.batch = set()
        self._shelf.take(taken)
        self._arrival = arrival
        self._changed |= changed
        if any(record.kind in SHARED for record in taken):
            self._of_day = None  # what sleeping hives are dressed with may be another now
        self._sheets = {}
        return changed

    def _recent(self, day: date) -> list[HiveState]:
        """Return of every kept hive what the agenda of a day needs.

        It is remembered, for it does for all days that follow.
        """
        ordinal = day.toordinal()
        if self._of_day is None or self._of_day[0] > ordinal:
            kept = self._keeping.recent(ordinal)
            self._of_day = ordinal, [self._operation.dressed(each) for each in kept]
        return self._of_day[1]

    def _gained(self) -> list[tuple[int, Record]]:
        return list(self._journal.arrivals(self._arrival))

    @property
    def _is_kept(self) -> bool:
        """Whether the file holds all that was taken in."""
        return self._keeps and str(self._arrival) == self._keeping.meta("arrival")

    @or_anew
    def keep(self) -> None:
        """Write to the book's file what changed since; call it when nobody waits."""
        if not self._keeps or self._is_kept:
            return
        operation = self._operation
        meta = {
            "arrival": str(self._arrival),
            "stands": stands(self._generation, self._others),
            "heads": " ".join(question.records[0] for question in operation.heads()),
        }
        states = []
        for hive in sorted(self._changed):
            state = operation.state(hive)
            since = newest_day(state)
            states.append((state, since, recent(state, since), operation.lot(hive)))
        handovers = [
            (hive, name, handed)
            for hive in sorted(self._changed)
            for name, handed in operation.handed_over(hive).items()
        ]
        try:
            self._keeping.keep(meta, states, handovers, operation.followed(), operation.used())
        except sqlite3.Error:
            # A full or unwritable disk: what is derived can wait, the journal has it all.
            self._go_on_in_memory()
            return
        self._changed = set()
        self._of_day = None
        if len(operation.hives) - len(operation.asleep) > _AWAKE:
            # They sleep again, or a season of rounds would hold every hive in memory.
            operation.let_go()
            self._operation = Operation(self._keeping, self._keeping.shared())

    def _apart(self) -> Operation:
        """Return an operation of the same records that may take others in without this book."""
        self.keep()
        if self._keeps:
            return Operation(self._keeping, self._keeping.shared())
        operation = Operation()
        operation.take(record for _, record in self._journal.arrivals())
        return operation

    def _go_on_in_memory(self) -> frozenset[str]:
        """Fold everything again without a file."""
        self._keeping.close()
        self._keeps = False
        self._keeping = Keeping(None, self._journal.by_ids, self._group)
        self._begin()
        return self._refreshed()


def _joins_ids(gained: tuple[int, Record]) -> bool:
    """Whether a record makes ids one, or parts them: kept states stand under other ids then."""
    return gained[1].kind == "same_as"


def newest_day(state: HiveState) -> int:
    """Return the last day of which a state tells anything."""
    days = [course.last for course in state.courses]
    days += [event.day for event in state.events[-1:]]
    days += [each.last_out or each.first for each in state.exposures]
    return max(days, default=0)
