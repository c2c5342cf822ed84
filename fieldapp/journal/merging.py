"""Driving a sync: find what differs, send and fetch it, until both sides hold the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final, NamedTuple

from fieldapp.journal import chain, holes, refusals
from fieldapp.journal.batches import Batch, Misfit, batches
from fieldapp.journal.chain import Place, Vector
from fieldapp.journal.filling import settle
from fieldapp.journal.halving import Halving
from fieldapp.journal.losses import Finder
from fieldapp.journal.receiving import Receipt, receive
from fieldapp.journal.refusals import OF_A_RECORD, Refusal
from fieldapp.journal.replica import ENOUGH_BYTES, Peer, Want, digests, holding, lacking
from fieldapp.journal.store import Journal

#: Others may write meanwhile, and settling writes again: then another round is needed.
_ROUNDS: Final = 12
#: The first request is small: while the other side takes it in, the next is made ready.
_FIRST_BYTES: Final = ENOUGH_BYTES // 4


class Progress(NamedTuple):
    """How far a sync is: records sent and fetched so far."""

    sent: int
    fetched: int


class Outcome(NamedTuple):
    """What a sync came to.

    `equal`: both sides hold the same, `records` that count, proven by equal vectors.
    `sent` and `fetched` count records that were new to the other side and to this one.
    """

    equal: bool
    records: int
    sent: int
    fetched: int
    refused_by_them: tuple[Refusal, ...]
    refused_by_us: tuple[Refusal, ...]
    new_writer: bool


def sync(
    journal: Journal,
    peer: Peer,
    finder: Finder,
    progress: Callable[[Progress], None] = lambda _: None,
) -> Outcome:
    """Bring `journal` and `peer` to hold the same; safe to break off and to repeat anywhere.

    `finder` signs what is told as lost; `progress` is called after every step. Errors of the
    peer's transport and of the disk pass through: all that was acknowledged is kept.
    """
    return _Sync(journal, peer, finder, progress).run()


class _Sync:
    def __init__(
        self,
        journal: Journal,
        peer: Peer,
        finder: Finder,
        progress: Callable[[Progress], None],
    ) -> None:
        self._journal = journal
        self._peer = peer
        self._finder = finder
        self._progress = progress
        self._sent = 0
        self._fetched = 0
        self._refused_by_them: dict[bytes, Refusal] = {}
        self._refused_by_us: dict[bytes, Refusal] = {}
        self._new_writer = False

    def run(self) -> Outcome:
        """Exchange until both hold the same, or another round would be like one before."""
        equal = False
        seen: set[tuple[bytes, bytes]] = set()
        for _ in range(_ROUNDS):
            mine = self._journal.vector()
            theirs = self._peer.greet(mine.hash()).hash
            equal = theirs == mine.hash()
            if equal and not settle(self._journal, self._finder):
                break
            if equal:
                equal = False
                continue
            if (mine.hash(), theirs) in seen:
                break
            seen.add((mine.hash(), theirs))
            self._exchange(mine)
        refusals.keep(self._journal, "them", () if equal else self._refused_by_them.values())
        return Outcome(
            equal,
            self._journal.count(),
            self._sent,
            self._fetched,
            tuple(self._refused_by_them.values()),
            tuple(self._refused_by_us.values()),
            self._new_writer,
        )

    def _exchange(self, mine: Vector) -> None:
        self._refused_by_them.clear()
        self._refused_by_us.clear()
        theirs, they_lack = self._peer.offer(mine)
        known = theirs
        # One head of a writer at a time: what two have in common is sent once.
        for heads in _one_a_writer(they_lack):
            self._push(heads, self._shared_with_them(heads, known))
            known = Vector()
        self._pull(theirs)

    def _shared_with_them(self, heads: Sequence[Place], theirs: Vector) -> list[int]:
        """Return for each of my `heads` the highest seq that they hold on the way to it."""
        searches = {head: self._search(head, theirs.of(head.writer)) for head in heads}
        while open_ones := [head for head in heads if searches[head].found is None]:
            asked = {head: searches[head].asks() for head in open_ones}
            places = {
                head: [
                    Place(head.writer, seq, digest)
                    for seq, digest in zip(seqs, digests(self._journal, head, seqs), strict=True)
                ]
                for head, seqs in asked.items()
            }
            answers = iter(self._peer.holds([p for head in open_ones for p in places[head]]))
            for head in open_ones:
                shared = [next(answers) for _ in places[head]]
                searches[head].told(asked[head], shared)
        return [searches[head].found or 0 for head in heads]

    def _search(self, head: Place, theirs: list[Place]) -> Halving:
        """Begin to search for what they share of `head`; mostly their own head tells it."""
        below = [place for place in theirs if place.seq <= head.seq]
        stated = digests(self._journal, head, [place.seq for place in below])
        for place, digest in zip(below, stated, strict=True):
            if digest == place.digest:
                return Halving(place.seq, place.seq)
        most = max((place.seq for place in theirs), default=0)
        return Halving(0, min(most, head.seq))

    def _push(self, heads: Sequence[Place], shared: Sequence[int]) -> None:
        """Send what lies above what is shared."""
        for request in self._peer.ready(self._requests(heads, shared)):
            self._send(request)

    def _requests(self, heads: Sequence[Place], shared: Sequence[int]) -> Iterator[Sequence[Batch]]:
        """Yield what is to be sent in requests of bounded size.

        Whether a writer's records are refused may be known a request late, which costs no more.
        """
        request: list[Batch] = []
        size, enough = 0, _FIRST_BYTES
        for head, above in zip(heads, shared, strict=True):
            for batch in self._outgoing(head, above):
                if head.writer in self._refused_by_them:
                    break
                request.append(batch)
                size += sum(map(len, batch.records))
                if size >= enough:
                    yield request
                    request, size, enough = [], 0, ENOUGH_BYTES
        if request:
            yield request

    def _outgoing(self, head: Place, above: int) -> Iterator[Batch]:
        try:
            yield from batches(self._journal, head, above)
        except Misfit:
            holes.verify(self._journal)

    def _send(self, request: Sequence[Batch]) -> None:
        for receipt in self._peer.take(request):
            self._sent += receipt.new
            if receipt.refused:
                self._refused_by_them.setdefault(receipt.refused.writer, receipt.refused)
        if any(refused.why in OF_A_RECORD for refused in self._refused_by_them.values()):
            # Where our own check agrees it is set aside here; where not, nothing changes.
            holes.verify(self._journal)
        self._progress(Progress(self._sent, self._fetched))

    def _pull(self, theirs: Vector) -> None:
        """Fetch what I lack, until nothing more comes."""
        have: dict[Place, Place] = {}
        hopeless: set[Place] = set()
        while heads := next(_one_a_writer(self._still_lacking(theirs, hopeless)), None):
            wants = [Want(head, have.get(head) or self._highest_below(head)) for head in heads]
            given = self._peer.give(wants)
            receipts = receive(self._journal, given.batches)
            self._note(receipts)
            reached = {
                batch.writer: batch.last
                for batch, receipt in zip(given.batches, receipts, strict=True)
                if receipt.refused is None
            }
            astray = {want.head for want in given.astray}
            for want in wants:
                head = want.head
                if head.writer in reached:
                    have[head] = reached[head.writer]
                elif head in astray and head not in have:
                    have[head] = self._shared_with_me(head)
                elif head in astray or head.writer in self._refused_by_us or not receipts:
                    hopeless.add(head)

    def _still_lacking(self, theirs: Vector, hopeless: set[Place]) -> list[Place]:
        return [head for head in lacking(self._journal, theirs) if head not in hopeless]

    def _note(self, receipts: Sequence[Receipt]) -> None:
        for receipt in receipts:
            self._fetched += receipt.new
            self._new_writer |= receipt.new_writer
            if receipt.refused:
                self._refused_by_us.setdefault(receipt.refused.writer, receipt.refused)
        self._progress(Progress(self._sent, self._fetched))

    def _highest_below(self, head: Place) -> Place:
        """Return my highest head of the writer below `head`: mostly it is on the way."""
        mine = [place for place in self._journal.vector().of(head.writer) if place.seq < head.seq]
        return mine[0] if mine else Place(head.writer, 0, chain.start(head.writer))

    def _shared_with_me(self, head: Place) -> Place:
        """Return the highest place on the way to their `head` that I hold."""
        most = max((place.seq for place in self._journal.vector().of(head.writer)), default=0)
        search = Halving(0, min(most, head.seq))
        found = {0: chain.start(head.writer)}
        while search.found is None:
            seqs = search.asks()
            theirs = self._peer.digests(head, seqs)
            places = [Place(head.writer, s, d) for s, d in zip(seqs, theirs, strict=True)]
            found.update(zip(seqs, theirs, strict=True))
            search.told(seqs, holding(self._journal, places))
        return Place(head.writer, search.found, found[search.found])


def _one_a_writer(heads: Sequence[Place]) -> Iterator[list[Place]]:
    """Yield `heads` in groups that have at most one head of each writer."""
    left = list(heads)
    while left:
        group = {head.writer: head for head in reversed(left)}
        yield list(group.values())
        left = [head for head in left if group[head.writer] is not head]
