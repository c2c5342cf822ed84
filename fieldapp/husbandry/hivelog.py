"""Everything recorded about one hive, by what it is to the fold.

Each entry begins with its place in the order, whose last part is the root's id.
"""

from __future__ import annotations

from collections.abc import Callable
from operator import itemgetter
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Event, Look
from fieldapp.husbandry.superevents import SuperEvent
from fieldapp.journal.record import Record


class Side(NamedTuple):
    """Which of several versions side by side an entry is: its place (0 holds) of how many."""

    root: str
    place: int
    of: int


class Entry(NamedTuple):
    """A record as the fold of one hive meets it; `far` is the hive at the other end of a link."""

    key: Key
    what: str
    record: Record
    side: Side | None = None
    far: str = ""


class Harvested(NamedTuple):
    """Honey of a hive in a lot."""

    key: Key
    lot: str
    mark: str


#: From where on in the order folding ends otherwise: from the first record on, or nowhere.
ALWAYS: Key = (0, 0, "", "")
NEVER: Key = (10**9, 0, "", "")


class HiveLog:
    """Everything recorded about one hive, each list in order once `sort` was called."""

    __slots__ = (
        "attributes",
        "entries",
        "events",
        "harvests",
        "inert",
        "looks",
        "mixed",
        "supers",
    )

    def __init__(self) -> None:
        self.entries: list[Entry] = []
        self.supers: list[SuperEvent] = []
        self.looks: list[Look] = []
        self.events: list[Event] = []
        self.attributes: list[tuple[Key, Record]] = []
        self.harvests: list[Harvested] = []
        #: Records that join a hive with itself while two ids are one: nothing until they part.
        self.inert: list[tuple[Key]] = []
        self.mixed = False

    def sort(self) -> None:
        """Bring every list in order."""
        if self.mixed:
            for each in self._lists():
                each.sort(key=_BY_KEY)
            self.mixed = False

    def remove(self, root: str) -> Key:
        """Take out whatever a root put in; return from where on folding ends otherwise now."""
        folded = (self.entries, self.supers, self.looks)
        keys = [each.key for every in folded for each in every]
        since = min((key for key in keys if key[3] == root), default=NEVER)
        if any(entry[0][3] == root for entry in self.attributes):
            since = ALWAYS
        for each in self._lists():
            each[:] = [entry for entry in each if entry[0][3] != root]
        return since

    def roots(self) -> set[str]:
        """Return the ids of the roots that stand in it."""
        return {entry[0][3] for each in self._lists() for entry in each}

    def _lists(self) -> tuple[list[tuple[Key, ...]], ...]:
        return (
            self.entries,
            self.supers,
            self.looks,
            self.events,
            self.attributes,
            self.harvests,
            self.inert,
        )  # type: ignore[return-value]


_BY_KEY: Callable[[tuple[Key, ...]], Key] = itemgetter(0)
