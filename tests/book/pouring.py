"""Journals of their own for the tests of the book, and records that come in as in a sync."""

from __future__ import annotations

import os
from pathlib import Path

from fieldapp.journal import chain
from fieldapp.journal.batches import Batch
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import Record, encode
from fieldapp.journal.store import Journal

WRITER = bytes(16)


class Pour:
    """Hands records to a journal as another replica would, one batch after another."""

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        self.seq, self.digest = 0, chain.start(WRITER)

    def __call__(self, records: list[Record]) -> None:
        raws = tuple(encode(record) for record in records)
        before, first = self.digest, self.seq + 1
        for raw in raws:
            self.digest = chain.link(self.digest, raw)
        self.seq += len(raws)
        (receipt,) = receive(self.journal, [Batch(WRITER, first, before, self.digest, raws)])
        assert receipt.new == len(raws)


def opened(path: Path) -> Journal:
    """Open a journal with a clock and chance of its own."""
    return Journal.open(path, now_ms=lambda: 1_790_000_000_000, entropy=os.urandom)
