"""Takes records in: where each is entered, and from where on which hives are to be folded anew."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from fieldapp.husbandry.days import Key, order_key, record_key
from fieldapp.husbandry.entering import QUICK, from_where
from fieldapp.husbandry.hivelog import ALWAYS, HiveLog
from fieldapp.husbandry.index import USING, Index
from fieldapp.husbandry.kept import Kept
from fieldapp.husbandry.placing import OF_HIVES, marks_named, place
from fieldapp.husbandry.shared import SHARED, Shared
from fieldapp.husbandry.state import Question
from fieldapp.journal.record import Record

_READ = SHARED | OF_HIVES

#: Hives to fold anew, each with the place in the order from which on it ends otherwise.
Dirty = dict[str, Key]


class Intake:
    """Enters records in the index and in what hives share.

    `heads` are the records of which several versions stand side by side. `forget` is called
    with each hive that no longer stands for itself.
    """

    def __init__(
        self, index: Index, shared: Shared, kept: Kept | None, forget: Callable[[str], None]
    ) -> None:
        self._index = index
        self._shared = shared
        self._kept = kept
        self._forget = forget
        self.heads: dict[str, Question] = {}
        if kept is not None:
            self.heads = {root: Question("heads", (root,)) for root in kept.heads()}

    def take(self, records: Iterable[Record]) -> tuple[Dirty, set[str]]:
        """Enter records; return the hives to fold anew, and the marks of supers they touch.

        A record already taken changes nothing; another content under the same id replaces
        it, as the journal says which of several counts.
        """
        dirty: Dirty = {}
        marks: set[str] = set()
        roots, corrections = self._index.roots, self._index.corrections
        for record in records:
            if record.corrects is None and record.kind in _READ:
                self._index.wake_family(record)
            quick = QUICK.get(record.kind)
            if (
                quick is not None
                and record.corrects is None
                and record.id not in roots
                and record.id not in corrections
            ):
                # Most records by far: new, of one hive, and uncorrected.
                roots[record.id] = record
                if record.hive is not None:
                    self._enter(record, quick, dirty)
            elif record.corrects is not None:
                known = self._index.corrections[record.corrects]
                if known.get(record.id) == record:
                    continue
                if record.kind not in _READ:
                    self._stands_beside(record)
                    continue
                self._index.wake_family(record)
                self._unplace(record.corrects, dirty, marks)
                known[record.id] = record
                self._place(record.corrects, dirty, marks)
            elif record.kind in _READ:
                old = roots.get(record.id)
                if old == record:
                    continue
                if old is not None:
                    self._unplace(record.id, dirty, marks)
                roots[record.id] = record
                self._place(record.id, dirty, marks)
            elif record.adds_to is None:
                self._stands_beside(record)
        return dirty, marks

    def _enter(
        self, record: Record, quick: Callable[[HiveLog, Key, Record], None], dirty: Dirty
    ) -> None:
        hive = self._shared.hive(record.hive or "")
        log = self._index.logs.get(hive) or self._index.log(hive)
        key = order_key(record.happened, record.stamp, record.id)
        quick(log, key, record)
        log.mixed = True
        _since(dirty, hive, from_where(record, key))
        if record.kind in USING:
            self._index.use((record,), (hive,))

    def _unplace(self, root: str, dirty: Dirty, marks: set[str]) -> None:
        for record in self._index.open(root):
            for hive in self._index.hives_of(record):
                _since(dirty, hive, self._index.log(hive).remove(root))
            for mark in marks_named(record):
                events = self._index.mark(mark)
                events[:] = [event for event in events if event.record != root]
                marks.add(mark)

    def _place(self, root: str, dirty: Dirty, marks: set[str]) -> None:
        versions = self._index.open(root)
        if not versions:
            return
        record = versions[-1]
        self._ask(root, versions)
        if record.kind in SHARED:
            keys = self._shared.put(versions)
            if record.kind == "same_as":
                self._move(keys, dirty, marks)
            for key in keys:
                users = self._index.uses.get(key, set())
                if self._kept is not None:
                    users = users | set(self._kept.users(key))
                for hive in users:
                    _since(dirty, hive, ALWAYS)
            return
        for hive in self._index.hives_ever(root) - self._index.logs.keys():
            # Known whatever arrives first, the record or the correction that takes it back.
            self._index.log(hive)
            _since(dirty, hive, ALWAYS)
        placed = place(versions, self._shared.hive, self._index.log, self._index.mark)
        self._index.use(versions, placed.hives)
        since = min(from_where(each, record_key(each)) for each in versions)
        for hive in placed.hives:
            _since(dirty, hive, since)
        marks |= placed.marks

    def _ask(self, root: str, versions: Sequence[Record]) -> None:
        """Ask which version of a record holds where several stand side by side."""
        if len(versions) > 1:
            self.heads[root] = Question("heads", (root,))
        else:
            self.heads.pop(root, None)

    def _stands_beside(self, record: Record) -> None:
        """Know a record that no rule reads: of its versions too the keeper says which holds."""
        root = record.corrects or record.id
        self._index.learn_family(root)
        if record.corrects is None:
            self._index.roots[root] = record
        else:
            self._index.corrections[root][record.id] = record
        self._ask(root, self._index.open(root))

    def _move(self, names: set[str], dirty: Dirty, marks: set[str]) -> None:
        """Place anew what stood under ids that are one now, or are no longer."""
        roots: set[str] = set()
        for name in names:
            log = self._index.logs.pop(name, None)
            if log is not None:
                roots |= log.roots()
                self._forget(name)
                dirty.pop(name, None)
        for root in roots:
            for record in self._index.open(root):
                for hive in self._index.hives_of(record) & self._index.logs.keys():
                    self._index.logs[hive].remove(root)
                for mark in marks_named(record):
                    events = self._index.mark(mark)
                    events[:] = [event for event in events if event.record != root]
        for root in sorted(roots):
            self._place(root, dirty, marks)
        for hive in dirty:
            dirty[hive] = ALWAYS


def _since(dirty: Dirty, hive: str, key: Key) -> None:
    known = dirty.get(hive)
    if known is None or key < known:
        dirty[hive] = key
