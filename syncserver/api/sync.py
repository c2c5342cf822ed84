"""Syncing: each route puts one question of a phone to the replica beside the server's journal."""

from __future__ import annotations

import base64
import binascii
from http import HTTPStatus
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response
from starlette.requests import ClientDisconnect

from fieldapp.journal import happened
from fieldapp.journal.chain import Vector
from fieldapp.journal.filling import unsettled
from fieldapp.journal.losses import Finder
from fieldapp.journal.replica import Host, Status
from fieldapp.wire import batches, limits
from fieldapp.wire.batches import BadBatches
from fieldapp.wire.packing import BadPacking, pack, unpack
from syncserver.api.access import DeviceHere, LedgerHere, PartsHere
from syncserver.api.errors import ApiError, malformed
from syncserver.api.models import (
    DigestsAnswer,
    DigestsQuestion,
    HoldsAnswer,
    HoldsQuestion,
    OfferAnswer,
    OfferQuestion,
    PlaceForm,
    PullHeading,
    PullQuestion,
    PushAnswer,
    ReceiptForm,
    StatusAnswer,
    StatusQuestion,
)
from syncserver.bootstrap import versions
from syncserver.clock import Clock
from syncserver.journals import Ledger
from syncserver.operations import keeper_of

PUSH = "/push"

router = APIRouter()


async def _host(ledger: LedgerHere, device: DeviceHere, parts: PartsHere) -> Host:
    now = happened.format(parts.clock.ms() * 1000, "UTC")
    return Host(ledger.journal, Finder("home server", keeper_of(device.operation), now))


HostHere = Annotated[Host, Depends(_host)]


async def _pushed(request: Request, _: DeviceHere) -> bytes:
    """Return the packed body of a push; only a paired phone's is read."""
    if request.headers.get("content-type", "").partition(";")[0].strip() != limits.BATCHES:
        raise ApiError(
            HTTPStatus.UNSUPPORTED_MEDIA_TYPE,
            "media_type",
            f"Records travel as {limits.BATCHES}.",
            "Is the app older or newer than the server? Bring both up to date.",
        )
    try:
        return await request.body()
    except ClientDisconnect:
        raise malformed("The records were cut off.") from None


@router.post("/status", summary="Do both hold the same?")
def status(
    question: StatusQuestion,
    host: HostHere,
    ledger: LedgerHere,
    device: DeviceHere,
    parts: PartsHere,
) -> StatusAnswer:
    """Compare hashes of vectors. With nothing to do, this is the whole sync."""
    told = (question.rules, question.library)
    if question.rules is not None and told != (device.rules, device.library):
        parts.store.computes(device.id, question.rules, question.library or "")
    return _status(ledger, host.greet(bytes.fromhex(question.hash)), parts.clock)


@router.post("/offer", summary="Exchange vectors")
def offer(question: OfferQuestion, host: HostHere) -> OfferAnswer:
    """Return the server's vector, and which of the phone's heads it lacks."""
    try:
        vector = Vector.decode(base64.b64decode(question.vector, validate=True))
    except (ValueError, binascii.Error) as wrong:
        raise malformed("The vector did not arrive whole.") from wrong
    offered = host.offer(vector)
    return OfferAnswer(
        vector=base64.b64encode(offered.vector.encode()).decode(),
        lacks=[PlaceForm.of(place) for place in offered.lacks],
    )


@router.post("/holds", summary="Which of these places does the server hold?")
def holds(question: HoldsQuestion, host: HostHere) -> HoldsAnswer:
    """Answer for each place whether all up to it is here."""
    return HoldsAnswer(holds=host.holds([place.place() for place in question.places]))


@router.post("/digests", summary="Digests on the way to a head")
def digests(question: DigestsQuestion, host: HostHere) -> DigestsAnswer:
    """Return the digests at some seqs below a head, for halving."""
    found = host.digests(question.head.place(), question.seqs)
    return DigestsAnswer(digests=[digest.hex() for digest in found])


_BODY: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {limits.BATCHES: {"schema": {"type": "string", "format": "binary"}}},
    }
}


@router.post(PUSH, summary="Send batches of records", openapi_extra=_BODY)
def push(
    packed: Annotated[bytes, Depends(_pushed)],
    host: HostHere,
    ledger: LedgerHere,
    parts: PartsHere,
) -> PushAnswer:
    """Take batches in; answered once they are on the disk."""
    try:
        pushed = batches.decode(unpack(packed, limits.BATCH_BYTES))
    except (BadPacking, BadBatches) as wrong:
        raise malformed(f"The records did not arrive whole: {wrong}.") from wrong
    receipts = [ReceiptForm.of(receipt) for receipt in host.take(pushed)]
    return PushAnswer(receipts=receipts, status=_now(ledger, parts.clock))


@router.post(
    "/pull",
    summary="Fetch batches of records",
    response_class=Response,
    responses={200: {"content": {limits.BATCHES: {}}}},
)
def pull(question: PullQuestion, host: HostHere, ledger: LedgerHere, parts: PartsHere) -> Response:
    """Return what the phone lacks, the oldest first, not all at once where it is much."""
    wants = [want.want() for want in question.wants]
    given = host.give(wants)
    astray = [number for number, want in enumerate(wants) if want in given.astray]
    heading = PullHeading(astray=astray, status=_now(ledger, parts.clock))
    line = heading.model_dump_json().encode() + b"\n"
    return Response(pack(line + batches.encode(given.batches)), media_type=limits.BATCHES)


def _now(ledger: Ledger, clock: Clock) -> StatusAnswer:
    journal = ledger.journal
    return _status(ledger, Status(journal.vector().hash(), journal.count()), clock)


def _status(ledger: Ledger, status: Status, clock: Clock) -> StatusAnswer:
    return StatusAnswer(
        hash=status.hash.hex(),
        records=status.records,
        settled=not unsettled(ledger.journal),
        now=clock.ms(),
        rules=versions().rules,
        library=versions().library,
        files=ledger.arriving.files.hash(),
    )
