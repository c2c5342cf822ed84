"""The records that rules read, and the logs in which they stand: by hive, and by marked super.

The records of hives that sleep stay where they were kept until one of these hives wakes.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from fieldapp.husbandry.folding import Handovers
from fieldapp.husbandry.hivelog import HiveLog
from fieldapp.husbandry.kept import Kept
from fieldapp.husbandry.placing import OF_HIVES, hives_named, marks_named, place
from fieldapp.husbandry.shared import Shared
from fieldapp.husbandry.superevents import SuperEvent
from fieldapp.journal.corrections import Version, version
from fieldapp.journal.record import Record


class Index:
    """Records by id, hive and mark; `uses` says which hives a change elsewhere touches."""

    def __init__(self, shared: Shared, kept: Kept | None, handovers: Handovers) -> None:
        """`handovers` gets what was kept of a hive that wakes."""
        self._shared = shared
        self._kept = kept
        self._handovers = handovers
        self.asleep = frozenset(kept.hives()) if kept is not None else frozenset()
        self.roots: dict[str, Record] = {}
        self.corrections: dict[str, dict[str, Record]] = defaultdict(dict)
        self.logs: dict[str, HiveLog] = {}
        self.uses: dict[str, set[str]] = defaultdict(set)
        self._marks: dict[str, list[SuperEvent]] = {}

    def version(self, root: str) -> Version | None:
        """Return a root with all that corrects it, None where it has not arrived."""
        record = self.roots.get(root)
        if record is None:
            return None
        fitting = [c for c in self.corrections.get(root, {}).values() if c.kind == record.kind]
        return version(record, fitting)

    def open(self, root: str) -> tuple[Record, ...]:
        """Return the open versions of a root side by side, the one that holds last."""
        if root in self.corrections:
            found = self.version(root)
            return found.open if found is not None else ()
        record = self.roots.get(root)
        return () if record is None else (record,)

    def hives_of(self, record: Record) -> set[str]:
        """Return the hives that a record names, by the ids that stand for them."""
        return {self._shared.hive(name) for name in hives_named(record)}

    def hives_ever(self, root: str) -> set[str]:
        """Return the hives that a root or anything that corrects it names."""
        found = self.version(root)
        versions = (found.root, *found.corrections) if found is not None else ()
        return {hive for each in versions for hive in self.hives_of(each)}

    def log(self, hive: str) -> HiveLog:
        """Return a hive's log; one that slept is woken: its records are placed first."""
        log = self.logs.get(hive)
        if log is None:
            log = self.logs[hive] = HiveLog()
            if self._kept is not None and hive in self.asleep:
                for name, handed in self._kept.handovers(hive).items():
                    self._handovers.setdefault(name, handed)
                self._wake(self._kept.records_of(hive), {hive}, set())
        return log

    def in_order(self, hive: str) -> HiveLog:
        """Return a hive's log with every list in order."""
        log = self.log(hive)
        log.sort()
        return log

    def mark(self, mark: str) -> list[SuperEvent]:
        """Return what records say of a marked super, kept ones too, in no order."""
        events = self._marks.get(mark)
        if events is None:
            events = self._marks[mark] = []
            if self._kept is not None:
                self._wake(self._kept.records_of_mark(mark), set(), {mark})
        return events

    def learn(self, record: Record) -> None:
        """Know a record without placing it."""
        if record.corrects is None:
            self.roots.setdefault(record.id, record)
        else:
            self.corrections[record.corrects].setdefault(record.id, record)

    def learn_family(self, root: str) -> None:
        """Know a root, if it was kept, and all kept that corrects it, without placing them."""
        if self._kept is not None and root not in self.roots:
            for known in self._kept.family(root):
                self.learn(known)

    def wake_family(self, record: Record) -> None:
        """Wake whatever a record about to be taken touches, as it stands without it."""
        if self._kept is None:
            return
        root = record.corrects or record.id
        self.learn_family(root)
        waiting = self.corrections[root].values() if root in self.corrections else ()
        for each in (*self.open(root), *waiting, record):
            for hive in self.hives_of(each) & self.asleep:
                self.log(hive)
            for mark in marks_named(each):
                self.mark(mark)

    def _wake(self, records: Iterable[Record], hives: set[str], marks: set[str]) -> None:
        """Place kept records in the logs of these hives and marks, and nowhere else."""
        roots = set()
        for record in records:
            self.learn(record)
            roots.add(record.corrects or record.id)
        nowhere: list[SuperEvent] = []

        def log(hive: str) -> HiveLog:
            return self.logs[hive] if hive in hives else HiveLog()

        def marked(mark: str) -> list[SuperEvent]:
            return self._marks[mark] if mark in marks else nowhere

        for root in roots:
            versions = self.open(root)
            if versions and versions[-1].kind in OF_HIVES:
                place(versions, self._shared.hive, log, marked)
                self.use(versions, hives)

    def use(self, versions: Iterable[Record], hives: Iterable[str]) -> None:
        """Note that these hives use whatever the versions of a record name."""
        for each in versions:
            if each.kind in USING:
                for key in _uses(each):
                    self.uses[key].update(hives)


#: The kinds that name what another record may change.
USING = frozenset({"application", "pieces", "hive", "split"})


def _uses(record: Record) -> Iterable[str]:
    """Return the keys under which a change elsewhere touches this record's hives."""
    body = record.body
    yield record.id
    for name in ("treatment", "terms", "plan"):
        if name in body:
            yield body[name]
    if record.kind == "hive" and record.apiary:
        yield record.apiary
