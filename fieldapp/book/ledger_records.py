"""The records that the ledger reads, out of all that arrive, and the ledger made from them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable

from fieldapp.husbandry.ledger import KINDS, Ledger, ledger
from fieldapp.journal.corrections import Version, version
from fieldapp.journal.record import Record

#: Kinds of which most records say nothing to the ledger, and the fields that do.
_SAYING = {"application": frozenset({"batch", "drawn", "gear", "seconds"})}


def wanted(record: Record) -> bool:
    """Whether the ledger reads a record.

    Of applications only those that took from stock or ran an applicator, and every correction,
    since it may say so where its root did not. Counts it is given by whoever asks for them.
    """
    if record.kind not in KINDS or record.kind == "count":
        return False
    saying = _SAYING.get(record.kind)
    return saying is None or record.corrects is not None or not saying.isdisjoint(record.body)


class LedgerRecords:
    """Takes records in any order; the ledger is made when it is asked for after a new one."""

    def __init__(self, by_id: Callable[[str], Record | None]) -> None:
        """`by_id` looks up a root of which only a correction says something to the ledger."""
        self._by_id = by_id
        self._roots: dict[str, Record] = {}
        self._corrections: defaultdict[str, dict[str, Record]] = defaultdict(dict)
        self._made: Ledger | None = None

    def take(self, record: Record) -> None:
        """Take a record in, if the ledger reads it."""
        if not wanted(record):
            return
        if record.corrects is None:
            self._roots[record.id] = record
        else:
            self._corrections[record.corrects][record.id] = record
        self._made = None

    def ledger(self) -> Ledger:
        """Return the ledger of all records taken."""
        if self._made is None:
            self._made = ledger(self._versions())
        return self._made

    def _versions(self) -> list[Version]:
        roots = dict(self._roots)
        for name in self._corrections:
            if name not in roots and (root := self._by_id(name)) is not None:
                roots[name] = root
        return [
            version(
                root, [c for c in self._corrections.get(name, {}).values() if c.kind == root.kind]
            )
            for name, root in roots.items()
        ]
