"""The home server as a `Peer` of the merge: each call is one request to one route."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable, Iterator, Sequence
from typing import Any, Self, get_args

from fieldapp.journal.batches import Batch
from fieldapp.journal.chain import Place, Vector
from fieldapp.journal.receiving import Receipt
from fieldapp.journal.refusals import Refusal, Why
from fieldapp.journal.replica import Given, Offer, Status, Want
from fieldapp.sync.client import Client
from fieldapp.sync.errors import Garbled
from fieldapp.sync.readahead import ReadAhead, one_ahead
from fieldapp.wire import batches as form
from fieldapp.wire import limits
from fieldapp.wire.packing import BadPacking, pack, unpack
from fieldapp.wire.versions import Versions


class WirePeer:
    """Speaks to the server's routes; whatever does not fit the protocol is `Garbled`.

    Answers to sending and fetching tell what the server holds after them, so the question
    whether both hold the same need not be asked when that has been told. `before` is called
    before each request and may raise to stop. `clock` returns this phone's milliseconds since
    1970; `ahead_ms` is then how far it is ahead of the server's, `versions` by what the server
    computes and `files` the hash of its files, where it tells; `ours`, by what this phone
    computes, is told to it.
    """

    def __init__(
        self,
        client: Client,
        clock: Callable[[], int],
        before: Callable[[], None],
        ours: Versions | None = None,
    ) -> None:
        self._client = client
        self._ours = ours
        self._clock = clock
        self._before = before
        self._ahead = ReadAhead(self._pull)
        self._told: tuple[Status, bool] | None = None
        self.ahead_ms: int | None = None
        self.versions: Versions | None = None
        self.files: str | None = None
        self.differ = 0

    def greet(self, hash: bytes) -> Status:
        """Say the hash of our vector, and hear the server's."""
        if self._told and self._told[1] and self._told[0].hash == hash:
            return self._told[0]
        question: dict[str, Any] = {"hash": hash.hex()}
        if self._ours is not None:
            question |= {"rules": self._ours.rules, "library": self._ours.library}
        return self._status(self._ask("/status", question))

    def offer(self, vector: Vector) -> Offer:
        """Say our vector; hear the server's, and which of our heads it lacks."""
        question = {"vector": base64.b64encode(vector.encode()).decode()}
        answer = self._ask("/offer", question)
        with self._fitting():
            theirs = Vector.decode(base64.b64decode(answer["vector"], validate=True))
            offer = Offer(theirs, tuple(map(_place, answer["lacks"])))
        self.differ = _difference(vector, theirs)
        return offer

    def holds(self, places: Sequence[Place]) -> list[bool]:
        """Hear of each of `places` whether the server holds all up to it."""
        held: list[bool] = []
        for begin in range(0, len(places), limits.MANY):
            asked = places[begin : begin + limits.MANY]
            answer = self._ask("/holds", {"places": [_form(place) for place in asked]})
            with self._fitting():
                held += [one is True for one in _row(answer["holds"], len(asked))]
        return held

    def digests(self, head: Place, seqs: Sequence[int]) -> list[bytes]:
        """Hear the digests at `seqs` on the way to a head of the server."""
        answer = self._ask("/digests", {"head": _form(head), "seqs": list(seqs)})
        with self._fitting():
            return [bytes.fromhex(digest) for digest in _row(answer["digests"], len(seqs))]

    def ready(self, requests: Iterator[Sequence[Batch]]) -> Iterator[Sequence[Batch]]:
        """Read and pack each of `requests` while the server stores the one before."""
        return one_ahead(map(_Packed, requests))

    def take(self, batches: Sequence[Batch]) -> list[Receipt]:
        """Send batches; hear what became of each once they are on the server's disk."""
        self._before()
        self._ahead.wait()
        batches = batches if isinstance(batches, _Packed) else _Packed(batches)
        answer = self._client.send("/push", batches.packed)
        with self._fitting():
            receipts = [
                _receipt(batch, told)
                for batch, told in zip(batches, _row(answer["receipts"], len(batches)), strict=True)
            ]
            self._status(answer["status"])
        return receipts

    def give(self, wants: Sequence[Want]) -> Given:
        """Hear what lies above what we hold; the next is fetched while this is stored."""
        return self._ahead.give(wants)

    def close(self) -> None:
        """Wait until nothing is under way."""
        self._ahead.close()

    def _pull(self, wants: Sequence[Want]) -> Given:
        asked = wants[: limits.MANY]
        question = {
            "wants": [{"head": _form(want.head), "have": _form(want.have)} for want in asked]
        }
        self._before()
        packed = self._client.fetch("/pull", question)
        with self._fitting():
            heading, _, body = unpack(packed, limits.BATCH_BYTES).partition(b"\n")
            told = json.loads(heading)
            given = Given(
                tuple(form.decode(body)), tuple(asked[number] for number in told["astray"])
            )
            self._status(told["status"])
        return given

    def _ask(self, path: str, question: Any) -> Any:
        self._before()
        self._ahead.wait()
        return self._client.ask(path, question)

    def _status(self, told: Any) -> Status:
        with self._fitting():
            status = Status(bytes.fromhex(told["hash"]), int(told["records"]))
            self._told = (status, told["settled"] is True)
            self.ahead_ms = self._clock() - int(told["now"])
            if "files" in told:
                self.files = str(told["files"])[:64]
            if "rules" in told:
                self.versions = Versions(int(told["rules"]), str(told["library"])[:40])
        return status

    def _fitting(self) -> _Fitting:
        return _Fitting(self._client.address)


class _Packed(tuple[Batch, ...]):
    """Batches, and what they are on the wire."""

    packed: bytes

    def __new__(cls, batches: Sequence[Batch]) -> Self:
        """Pack `batches`."""
        made = super().__new__(cls, batches)
        made.packed = pack(form.encode(batches))
        return made


class _Fitting:
    """Turns what an unexpected answer raises while it is read into `Garbled`."""

    def __init__(self, address: str) -> None:
        self._address = address

    def __enter__(self) -> None:
        pass

    def __exit__(self, kind: Any, wrong: BaseException | None, trace: Any) -> None:
        unfit = (KeyError, TypeError, ValueError, IndexError, AttributeError, RecursionError)
        if isinstance(wrong, (*unfit, BadPacking, form.BadBatches)):
            raise Garbled(self._address) from wrong


def _form(place: Place) -> dict[str, Any]:
    return {"writer": place.writer.hex(), "seq": place.seq, "digest": place.digest.hex()}


def _place(told: Any) -> Place:
    return Place(bytes.fromhex(told["writer"]), int(told["seq"]), bytes.fromhex(told["digest"]))


def _row(told: Any, length: int) -> list[Any]:
    if not isinstance(told, list) or len(told) != length:
        raise ValueError("not one answer a question")
    return told


def _receipt(batch: Batch, told: Any) -> Receipt:
    refused = None
    if told["refused"] is not None:
        why: Why = told["refused"]["why"]
        if why not in get_args(Why):
            raise ValueError("a refusal for an unknown reason")
        seq, size = int(told["refused"]["seq"]), int(told["refused"]["size"])
        refused = Refusal(batch.writer, seq, why, size)
    return Receipt(int(told["held"]), int(told["new"]), refused)


def _difference(ours: Vector, theirs: Vector) -> int:
    """Return about how many records differ: exact where nothing forked."""
    longest: dict[bytes, list[int]] = {}
    for side, vector in enumerate((ours, theirs)):
        for head in vector ^ (ours & theirs):
            ends = longest.setdefault(head.writer, [0, 0])
            ends[side] = max(ends[side], head.seq)
    return sum(abs(mine - other) for mine, other in longest.values())
