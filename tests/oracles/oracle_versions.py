"""Which records are understood, and which version of each holds: the oracle's own reading.

A *world* is one choice of an open head for every corrected record. The first world takes the
heads that hold; the others exist only while corrections made side by side are unanswered.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from itertools import product
from typing import Any

from fieldapp.journal.kinds import KINDS
from fieldapp.journal.record import Record

#: (civil date, microseconds since 1970 by the offset, root's stamp, root's id)
Key = tuple[str, int, str, str]


@dataclass(frozen=True)
class Fact:
    """One record as it counts in a world: the version that holds, under its root's id."""

    id: str
    kind: str
    key: Key
    stamp: str
    apiary: str | None
    hive: str | None
    colony: str | None
    body: dict[str, Any]

    @property
    def day(self) -> date:
        return date.fromisoformat(self.key[0])


def instant(happened: str) -> int | None:
    """Return microseconds since 1970, or None where `happened` is not understood."""
    text, bracket, zone = happened.partition("[")
    if not bracket or not zone.endswith("]") or len(zone) < 2 or text.endswith(("Z", "z")):
        return None
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    if moment.tzinfo is None:
        return None
    since = moment.astimezone(UTC) - datetime(1970, 1, 1, tzinfo=UTC)
    return (since.days * 86400 + since.seconds) * 1_000_000 + since.microseconds


def understood(record: Record) -> bool:
    """Say whether the record takes part in the rules, apart from what it corrects."""
    kind = KINDS.get((record.kind, record.v))
    if kind is None or kind.check(record.body) is not None:
        return False
    if any(getattr(record, field) is None for field in kind.needs):
        return False
    return not record.stamp.startswith("f") and instant(record.happened) is not None


def open_heads(records: Iterable[Record]) -> dict[str, list[Record]]:
    """Return for each root id its open heads, the one that holds first.

    The root is its only head until a correction of it has arrived.
    """
    by_id = {record.id: record for record in records if understood(record)}
    roots = {id_: record for id_, record in by_id.items() if record.corrects is None}
    corrections: dict[str, list[Record]] = {id_: [] for id_ in roots}
    for record in by_id.values():
        root = roots.get(record.corrects or "")
        if root is not None and root.kind == record.kind:
            corrections[root.id].append(record)
    heads = {}
    for id_, root in roots.items():
        replaced = {
            name
            for later in corrections[id_]
            for name in later.heads
            if name in by_id and (by_id[name].stamp, name) < (later.stamp, later.id)
        }
        left = [c for c in corrections[id_] if c.id not in replaced]
        left.sort(key=lambda c: (c.stamp, c.id), reverse=True)
        heads[id_] = left or [root]
    return heads


def worlds(records: Iterable[Record]) -> list[list[Fact]]:
    """Return every world, each in the order of the rules; the one that holds comes first."""
    records = list(records)
    heads = open_heads(records)
    roots = {r.id: r for r in records if r.id in heads and r.corrects is None}
    choices = [
        [(roots[id_], head) for head in (heads[id_][:1] if one_holds(roots[id_]) else heads[id_])]
        for id_ in sorted(heads)
    ]
    return [_facts(choice) for choice in product(*choices)]


def one_holds(root: Record) -> bool:
    """Whether only the version that holds counts: names that are one, answers, looks.

    Of several answers the latest holds; names decide what a hive is, and looks only due dates.
    """
    return root.kind in ("same_as", "look") or root.kind.startswith("answer_")


def _facts(choice: Iterable[tuple[Record, Record]]) -> list[Fact]:
    facts = []
    for root, head in choice:
        if head.corrects is not None and head.void:
            continue
        at = instant(head.happened)
        if at is None:
            continue
        key = (head.happened[:10], at, root.stamp, root.id)
        facts.append(
            Fact(
                root.id, root.kind, key, root.stamp, head.apiary, head.hive, head.colony, head.body
            )
        )
    return sorted(facts, key=lambda fact: fact.key)
