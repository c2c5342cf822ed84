"""The records that the ledger reads, after corrections, in their order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from fieldapp.husbandry.days import Key, order_key
from fieldapp.journal.corrections import Version
from fieldapp.journal.record import Record
from fieldapp.journal.same_as import Same, groups
from fieldapp.journal.twice import aliases, twice

#: Every kind that the ledger reads.
KINDS = frozenset(
    {
        "bought",
        "batch",
        "disposed",
        "on_hand",
        "gear",
        "measured",
        "colony_count",
        "visit",
        "reported",
        "apiary",
        "hive",
        "application",
        "split",
        "unite",
        "transfer",
        "super_carried",
        "terms",
        "same_as",
        "answer_twice",
    }
)
#: What an application says to the ledger: what it took from stock, what it ran on.
_SAYING = frozenset({"batch", "drawn", "gear", "seconds"})


#: What may be done against a standstill, hive by hive: many records, and told by the record book.
_DONE = frozenset({"split", "unite", "transfer", "super_carried"})


def reads(record: Record) -> bool:
    """Whether day by day the ledger is another with this record than without it.

    Most applications say nothing to it; every correction might, where its root did not. What
    was done to colonies and combs only says whether a standstill was kept, which the record
    book asks of all records once.
    """
    if record.kind == "application" and record.corrects is None:
        return not _SAYING.isdisjoint(record.body)
    return record.kind in KINDS and record.kind not in _DONE


class Fact(NamedTuple):
    """One record that holds, in its root's form, with its place among the others."""

    key: Key
    record: Record

    @property
    def id(self) -> str:
        """The root's id."""
        return self.record.id

    @property
    def day(self) -> int:
        """Its civil day, as an ordinal."""
        return self.key[0]


class Facts(NamedTuple):
    """What holds, by kind, each in order; `open` all open versions of each ``visit`` by root.

    Applications are those that say something to the ledger. Of those answered to be one, one
    counts; while nobody has answered, each counts as used, as for dose and limits.
    """

    of: Mapping[str, tuple[Fact, ...]]
    open: Mapping[str, tuple[Record, ...]]
    same: Same

    def kind(self, name: str) -> tuple[Fact, ...]:
        """Return what holds of one kind, in order."""
        return self.of.get(name, ())


def facts(versions: Iterable[Version]) -> Facts:
    """Return what holds among `versions`; kinds that the ledger does not read are passed over."""
    holding: defaultdict[str, list[Record]] = defaultdict(list)
    visits: dict[str, tuple[Record, ...]] = {}
    for version in versions:
        record = version.holds
        if record.kind not in KINDS or (record.kind == "application" and not _says(version)):
            continue
        if record.kind == "visit":
            visits[record.id] = version.open
        if not record.void:
            holding[record.kind].append(record)
    same = groups(holding["same_as"])
    questions = twice(holding["application"], holding["answer_twice"], same)
    doubled = aliases(question for question in questions if question.answer is not None)
    holding["application"] = [r for r in holding["application"] if r.id not in doubled]
    return Facts(
        {kind: tuple(sorted(map(_fact, records))) for kind, records in holding.items()},
        visits,
        same,
    )


def _says(version: Version) -> bool:
    return not _SAYING.isdisjoint(version.holds.body)


def _fact(record: Record) -> Fact:
    return Fact(order_key(record.happened, record.stamp, record.id), record)
