"""What no hive's state keeps: ledger, weather, keepers, written doses; read when first asked."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import TYPE_CHECKING

from fieldapp.husbandry.days import record_key
from fieldapp.husbandry.ledger import Ledger, ledger, reads
from fieldapp.journal.corrections import Version, versions
from fieldapp.journal.record import Record

if TYPE_CHECKING:
    from fieldapp.husbandry.choosing.outlook import DayOutlook

_WEATHER = "outlook"
_PEOPLE = "keeper"
_WRITTEN = "written_dose"
#: Every kind that is read here and not by the ledger.
_BESIDE = frozenset({_WEATHER, _PEOPLE, _WRITTEN})


def on_shelf(record: Record) -> bool:
    """Whether a record, or the root that it corrects, is read here."""
    return record.kind in _BESIDE or reads(record)


class Shelf:
    """The books beside the hives. Use it from one thread at a time.

    Nothing is read before something is asked. What was made out of the records stands until
    others were taken; then it is made anew.
    """

    def __init__(self, load: Callable[[], Iterable[Record]]) -> None:
        """`load` returns every root that `on_shelf` tells, and all that corrects them."""
        self._load = load
        self._read: dict[str, Record] | None = None
        self._ledger: Ledger | None = None

    def take(self, records: Iterable[Record]) -> None:
        """Take in what the journal gained."""
        for record in filter(on_shelf, records):
            self._ledger = None
            if self._read is None:
                return
            if record.corrects is not None and record.corrects not in self._read:
                # Its root says nothing here, was left out, and is needed now.
                self._read = None
                return
            self._read[record.id] = record

    def ledger(self) -> Ledger:
        """Return stock, gear and register as the journal has them now."""
        if self._ledger is None:
            of_ledger = (each for each in self._records() if each.kind not in _BESIDE)
            self._ledger = ledger(versions(of_ledger).values())
        return self._ledger

    def outlook(self, apiary: str) -> Mapping[date, DayOutlook]:
        """Return the temperatures that were entered for an apiary, by day."""
        same = self.ledger().facts.same
        name = same.of("apiary", apiary)
        group = same.group("apiary", name)
        of_weather = [
            each for each in self._records() if each.kind == _WEATHER and each.apiary in group
        ]
        from fieldapp.husbandry.choosing.outlook import outlook  # noqa: PLC0415  (few pages ask)

        return outlook(versions(of_weather).values())

    def keepers(self) -> dict[str, str]:
        """Return the names of the people of the operation by id."""
        of_people = [each for each in self._records() if each.kind == _PEOPLE]
        holding = [each.holds for each in versions(of_people).values() if not each.void]
        holding.sort(key=record_key)
        return {each.keeper: str(each.body["name"]) for each in holding}

    def written_doses(self) -> list[Version]:
        """Return the doses that veterinarians wrote down, the latest last."""
        written = versions(each for each in self._records() if each.kind == _WRITTEN)
        return sorted(written.values(), key=lambda each: record_key(each.holds))

    def _records(self) -> Iterable[Record]:
        if self._read is None:
            self._read = {record.id: record for record in self._load()}
        return self._read.values()
