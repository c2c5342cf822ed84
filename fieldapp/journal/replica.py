"""One side of a sync: what a replica answers. The same on phone and server.

The side that calls drives (`merging.sync`); the other answers as a `Peer`. A server's routes
put a `Host` on the wire, the phone's half has a `Peer` that speaks to those routes, and tests
join two replicas in one process by a `Host` alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple, Protocol

from fieldapp.journal import holes
from fieldapp.journal.batches import Batch, Misfit, batches
from fieldapp.journal.chain import Place, Vector
from fieldapp.journal.filling import settle
from fieldapp.journal.losses import Finder
from fieldapp.journal.receiving import Receipt, receive
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Tree

#: Requests of `take` and replies to `give` end with the batch that takes them over this size.
ENOUGH_BYTES: Final = 1024 * 1024


class Status(NamedTuple):
    """What a replica holds in short: the hash of its vector, and how many records count."""

    hash: bytes
    records: int


class Offer(NamedTuple):
    """A replica's vector, and which heads of the other side it lacks."""

    vector: Vector
    lacks: tuple[Place, ...]


class Want(NamedTuple):
    """A head that is wanted, and the highest place on the way to it that is held already."""

    head: Place
    have: Place


class Given(NamedTuple):
    """Batches for wants, and the wants whose `have` is not on the way to their head."""

    batches: tuple[Batch, ...]
    astray: tuple[Want, ...]


class Peer(Protocol):
    """The other side of a sync. Every call is safe to repeat."""

    def greet(self, hash: bytes) -> Status:
        """Say the hash of our vector, and hear the other's.

        Where they are equal a whole sync has ended: what waits above holes there is settled
        first, so the answer may differ again.
        """

    def offer(self, vector: Vector) -> Offer:
        """Say our vector; hear theirs, and which of our heads they lack."""

    def holds(self, places: Sequence[Place]) -> list[bool]:
        """Hear of each of `places` whether they hold all up to it."""

    def digests(self, head: Place, seqs: Sequence[int]) -> list[bytes]:
        """Hear the digests at `seqs` on the way to their `head`, empty where there is none."""

    def ready(self, requests: Iterator[Sequence[Batch]]) -> Iterator[Sequence[Batch]]:
        """Return what `take` will be given, in turn; made ready while the one before is sent."""

    def take(self, batches: Sequence[Batch]) -> list[Receipt]:
        """Send batches; hear what became of each once they are on the disk."""

    def give(self, wants: Sequence[Want]) -> Given:
        """Hear what lies above what we hold; not all at once where it is much."""


class Host:
    """A replica that answers: a `Peer` over the journal beside it."""

    def __init__(self, journal: Journal, finder: Finder) -> None:
        """Answer for `journal`; `finder` signs what is told as lost."""
        self._journal = journal
        self._finder = finder

    def greet(self, hash: bytes) -> Status:
        """Answer with this replica's hash and count, settled where a whole sync has ended."""
        status = self._status()
        if status.hash == hash and settle(self._journal, self._finder):
            return self._status()
        return status

    def _status(self) -> Status:
        return Status(self._journal.vector().hash(), self._journal.count())

    def offer(self, vector: Vector) -> Offer:
        """Answer with this replica's vector and what it lacks of the other's."""
        return Offer(self._journal.vector(), tuple(lacking(self._journal, vector)))

    def holds(self, places: Sequence[Place]) -> list[bool]:
        """Answer which of `places` are held without gap."""
        return holding(self._journal, places)

    def digests(self, head: Place, seqs: Sequence[int]) -> list[bytes]:
        """Answer with the digests at `seqs` on the way to `head`."""
        return digests(self._journal, head, seqs)

    def ready(self, requests: Iterator[Sequence[Batch]]) -> Iterator[Sequence[Batch]]:
        """Return `requests` as they are: nothing is on a way here."""
        return requests

    def take(self, batches: Sequence[Batch]) -> list[Receipt]:
        """Take batches in and answer once they are on the disk."""
        return receive(self._journal, batches)

    def give(self, wants: Sequence[Want]) -> Given:
        """Answer with what lies above what the other side has, the oldest first."""
        return give(self._journal, wants, ENOUGH_BYTES)


def lacking(journal: Journal, vector: Vector) -> list[Place]:
    """Return the heads of another replica's `vector` that `journal` lacks, in their order."""
    with journal.connections.reading() as connection:
        tree = Tree(connection)
        mine = tree.vector()
        return sorted(head for head in vector - mine if not tree.holds(head))


def holding(journal: Journal, places: Sequence[Place]) -> list[bool]:
    """Return which of `places` are held without gap."""
    with journal.connections.reading() as connection:
        tree = Tree(connection)
        return [tree.holds(place) for place in places]


def digests(journal: Journal, head: Place, seqs: Sequence[int]) -> list[bytes]:
    """Return the digests at `seqs` on the way to `head`, empty where there is none."""
    with journal.connections.reading() as connection:
        tree = Tree(connection, head.writer)
        branch = tree.holding(head)
        return [(branch and tree.digest(branch, seq)) or b"" for seq in seqs]


def give(journal: Journal, wants: Sequence[Want], enough_bytes: int) -> Given:
    """Return batches for `wants` until they are over `enough_bytes`, and the wants astray.

    A record that does not fit its digest is not sent: it is a hole from now on.
    """
    given: list[Batch] = []
    astray: list[Want] = []
    size = 0
    for want in wants:
        if digests(journal, want.head, [want.have.seq]) != [want.have.digest]:
            astray.append(want)
            continue
        try:
            for batch in batches(journal, want.head, want.have.seq):
                given.append(batch)
                size += sum(map(len, batch.records))
                if size >= enough_bytes:
                    return Given(tuple(given), tuple(astray))
        except Misfit:
            holes.verify(journal)
    return Given(tuple(given), tuple(astray))
