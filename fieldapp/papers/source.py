"""What a record book is made from: all that a journal holds, and what it lacks."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.journal.chain import Place
from fieldapp.journal.holes import Hole, holes
from fieldapp.journal.record import Record
from fieldapp.journal.store import Journal


class Source(NamedTuple):
    """The records of an operation and what is known of their wholeness.

    `heads` are the ends of the writers' chains; `not_understood` and `others` count what is
    stored and takes part in no rule; `holes` are the records known to be missing.
    """

    records: tuple[Record, ...]
    heads: tuple[Place, ...]
    not_understood: int = 0
    others: int = 0
    holes: tuple[Hole, ...] = ()


def gather(journal: Journal) -> Source:
    """Return all that `journal` holds."""
    # The last record that arrived under an id is the one that counts.
    records = {record.id: record for _, record in journal.arrivals()}
    return Source(
        tuple(records.values()),
        tuple(sorted(journal.vector())),
        len(journal.not_understood()),
        len(journal.other_contents()),
        tuple(holes(journal)),
    )
