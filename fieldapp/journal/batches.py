"""Records on their way: in a row, of one writer, with the digests that prove them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from fieldapp.journal import chain
from fieldapp.journal.chain import Place
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Tree

MOST_RECORDS: Final = 1000
#: A batch ends with the record that takes it over this many bytes of records.
ENOUGH_BYTES: Final = 512 * 1024


class Batch(NamedTuple):
    """Records of one writer in a row, from `first` on, each in its exact bytes.

    `before` is the digest that the receiver must hold at ``first - 1``, `after` the digest
    after the last. A receiver computes both itself and trusts neither.
    """

    writer: bytes
    first: int
    before: bytes
    after: bytes
    records: tuple[bytes, ...]

    @property
    def last(self) -> Place:
        """The place of the last record."""
        return Place(self.writer, self.first + len(self.records) - 1, self.after)


class Misfit(Exception):
    """A record on this disk does not fit its digest, found before it was sent on."""

    def __init__(self, place: Place) -> None:
        super().__init__(f"record {place.seq} of writer {place.writer.hex()} was altered")
        self.place = place


def batches(
    journal: Journal,
    head: Place,
    above: int,
    most_records: int = MOST_RECORDS,
    enough_bytes: int = ENOUGH_BYTES,
) -> Iterator[Batch]:
    """Yield what lies above seq `above` on the way to `head`, the oldest first.

    Every record is checked against its digest before it goes out. A head that is not here
    gives nothing.

    :raises Misfit: where a record does not fit, after what stands below it was yielded.
    """
    while above < head.seq:
        with journal.connections.reading() as connection:
            tree = Tree(connection, head.writer)
            branch = tree.holding(head)
            before = tree.digest(branch, above) if branch else None
            if branch is None or before is None:
                return
            rows: list[tuple[int, bytes, bytes]] = []
            for stretch in tree.path(branch):
                wanted = most_records - len(rows)
                last = head.seq if stretch.last is None else min(stretch.last, head.seq)
                if wanted > 0 and last > above:
                    rows += connection.execute(
                        "SELECT seq, digest, raw FROM record "
                        "WHERE branch = ? AND seq > ? AND seq <= ? ORDER BY seq LIMIT ?",
                        (stretch.branch.number, above, last, wanted),
                    )
        batch, misfit = _fitting(head.writer, above + 1, before, rows, enough_bytes)
        if batch.records:
            yield batch
        if misfit:
            raise Misfit(misfit)
        if not batch.records:
            return
        above = batch.last.seq


def _fitting(
    writer: bytes,
    first: int,
    before: bytes,
    rows: list[tuple[int, bytes, bytes]],
    enough_bytes: int,
) -> tuple[Batch, Place | None]:
    """Return the batch of `rows` up to enough bytes, and the first of them that does not fit."""
    records: list[bytes] = []
    digest, size = before, 0
    misfit = None
    for seq, stated, raw in rows:
        if seq != first + len(records) or chain.link(digest, raw) != stated:
            misfit = Place(writer, first + len(records), stated)
            break
        digest = stated
        records.append(raw)
        size += len(raw)
        if size >= enough_bytes:
            break
    return Batch(writer, first, before, digest, tuple(records)), misfit
