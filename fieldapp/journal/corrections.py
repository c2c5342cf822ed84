"""Corrections: which version of each record holds, and which stand side by side.

Pure functions of a set of records: neither order nor repetition of arrival matters.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from fieldapp.journal.record import Record


class Version(NamedTuple):
    """A root record with all that corrects it.

    `open` are the versions that nobody has replaced, the one that holds last; without
    corrections it is the root alone. Each is in the root's form: id, kind, stamp, writer and
    seq of the root, all else as corrected, so it orders where the root does. Over several,
    safety takes the worse and the keeper is asked: the answer is a correction whose heads
    name all of `head_ids`.
    """

    root: Record
    corrections: tuple[Record, ...]
    open: tuple[Record, ...]
    head_ids: tuple[str, ...]

    @property
    def holds(self) -> Record:
        """The version that holds, in the root's form; `void` says whether it is voided."""
        return self.open[-1]

    @property
    def void(self) -> bool:
        """Whether the version that holds voids the record."""
        return self.open[-1].void

    @property
    def asks(self) -> bool:
        """Whether several versions stand side by side and the keeper is asked."""
        return len(self.open) > 1


class Sorted(NamedTuple):
    """Records sorted out: versions by root id; corrections that wait; those of no meaning.

    A correction waits while its root has not arrived. One of another kind than its root, or
    of a correction, is *not understood*.
    """

    versions: dict[str, Version]
    waiting: tuple[Record, ...]
    not_understood: tuple[Record, ...]


def sort_out(records: Iterable[Record]) -> Sorted:
    """Return `records` as versions by root id, with the corrections that fit none."""
    roots: dict[str, Record] = {}
    corrections: dict[str, Record] = {}
    for record in records:
        (roots if record.corrects is None else corrections)[record.id] = record
    of_root: defaultdict[str, list[Record]] = defaultdict(list)
    waiting: list[Record] = []
    amiss: list[Record] = []
    for record in corrections.values():
        named = str(record.corrects)
        if (root := roots.get(named)) is None:
            (amiss if named in corrections else waiting).append(record)
        elif root.kind != record.kind:
            amiss.append(record)
        else:
            of_root[named].append(record)
    return Sorted(
        {name: version(root, of_root.get(name, ())) for name, root in roots.items()},
        tuple(sorted(waiting, key=_when_made)),
        tuple(sorted(amiss, key=_when_made)),
    )


def versions(records: Iterable[Record]) -> dict[str, Version]:
    """Return the version of each root record in `records`, by its id."""
    return sort_out(records).versions


def version(root: Record, corrections: Sequence[Record]) -> Version:
    """Return the version of `root` under corrections of it, each of the root's kind.

    A head that a correction names counts as replaced even before it arrives; a name whose
    (stamp, id) is not lower than the correction's own is ignored. Of several heads the latest
    (stamp, id) holds.
    """
    if not corrections:
        return Version(root, (), (root,), (root.id,))
    made = {record.id: _when_made(record) for record in corrections}
    replaced = {
        name
        for record in corrections
        for name in record.heads
        if name in made and made[name] < made[record.id]
    }
    in_order = tuple(sorted(corrections, key=_when_made))
    heads = [record for record in in_order if record.id not in replaced]
    return Version(
        root,
        in_order,
        tuple(_in_form_of(root, head) for head in heads),
        tuple(head.id for head in heads),
    )


def _in_form_of(root: Record, head: Record) -> Record:
    return root._replace(
        v=head.v,
        happened=head.happened,
        keeper=head.keeper,
        body=head.body,
        apiary=head.apiary,
        hive=head.hive,
        colony=head.colony,
        void=head.void,
    )


def _when_made(record: Record) -> tuple[str, str]:
    return (record.stamp, record.id)
