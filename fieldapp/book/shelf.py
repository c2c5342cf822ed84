"""What no hive's state keeps: ledger, gear and the weather, read when they are first asked for."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from fieldapp.husbandry.choosing.outlook import DayOutlook, outlook
from fieldapp.husbandry.ledger import KINDS, Ledger, ledger
from fieldapp.journal.corrections import versions
from fieldapp.journal.record import Record
from fieldapp.journal.store import Journal

#: The kinds that are read here.
READ = KINDS | {"outlook"}


class Shelf:
    """The books of one journal beside its hives. Use it from one thread at a time.

    Nothing is read before something is asked. What was made out of the records stands until
    the journal has gained others; then it is made anew.
    """

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._begin()

    def _begin(self) -> None:
        self._generation = self._journal.generation
        self._arrival = 0
        self._records: dict[str, Record] = {}
        self._ledger: Ledger | None = None

    def ledger(self) -> Ledger:
        """Return stock, gear and register as the journal has them now."""
        self._refresh()
        if self._ledger is None:
            of_ledger = (each for each in self._records.values() if each.kind in KINDS)
            self._ledger = ledger(versions(of_ledger).values())
        return self._ledger

    def outlook(self, apiary: str) -> Mapping[date, DayOutlook]:
        """Return the temperatures that were entered for an apiary, by day."""
        same = self.ledger().facts.same
        name = same.of("apiary", apiary)
        group = same.group("apiary", name)
        of_weather = [
            each
            for each in self._records.values()
            if each.kind == "outlook" and each.apiary in group
        ]
        return outlook(versions(of_weather).values())

    def _refresh(self) -> None:
        if self._journal.generation != self._generation:
            self._begin()
        for arrival, record in self._journal.arrivals(self._arrival):
            self._arrival = arrival
            if record.kind in READ:
                self._records[record.id] = record
                self._ledger = None
