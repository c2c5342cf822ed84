"""Annexes: what adds to a record without replacing it (position, photo, voice note, words)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from math import inf

from fieldapp.journal.record import Record

#: A position counts for a tap when it was taken within this many seconds of it.
WITHIN_S = 120


def annexes(records: Iterable[Record]) -> dict[str, tuple[Record, ...]]:
    """Return the annexes among `records` by the id of the root that each adds to.

    Give the versions that hold (`Version.holds`); voided ones are left out. In the order of
    (stamp, id).
    """
    found: defaultdict[str, list[Record]] = defaultdict(list)
    for record in records:
        if record.adds_to is not None and not record.void:
            found[record.adds_to].append(record)
    return {
        root: tuple(sorted(added, key=lambda record: (record.stamp, record.id)))
        for root, added in found.items()
    }


def position(added: Iterable[Record]) -> Record | None:
    """Return the ``position`` among a root's annexes that holds, None where none does.

    Of those within 120 s of the tap the smallest stated accuracy (metres), then the nearest
    in time, then the smallest id; one without a stated accuracy comes last.
    """
    near = [
        record
        for record in added
        if record.kind == "position" and abs(record.body["after_s"]) <= WITHIN_S
    ]
    return min(near, key=_rank, default=None)


def _rank(record: Record) -> tuple[float, float, str]:
    return (record.body.get("accuracy", inf), abs(record.body["after_s"]), record.id)
