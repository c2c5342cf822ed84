"""Files that records name: asked for by their SHA-256, sent and fetched piece by piece.

Only what a record of the operation names is taken or given, so a phone cannot fill the disk with
anything else, and a photo that was taken back goes from here too.
"""

from __future__ import annotations

from http import HTTPStatus
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Path, Query, Request, Response
from starlette.requests import ClientDisconnect

from fieldapp.journal.files import MOST, FileAltered, FileAway
from fieldapp.wire import limits
from fieldapp.words import say
from syncserver.api.access import DeviceHere, LedgerHere
from syncserver.api.errors import ApiError, malformed
from syncserver.api.models import FileForm, FilesAnswer, FilesQuestion
from syncserver.journals import Ledger

FILES = "/files"

router = APIRouter()

DigestHere = Annotated[str, Path(pattern="^[0-9a-f]{64}$", description="SHA-256 of the file")]
At = Annotated[int, Query(ge=0, le=MOST, description="the byte at which the piece begins")]
Of = Annotated[int, Query(ge=1, le=MOST, description="how many bytes the whole file has")]


@router.post(FILES, summary="How much of these files does the server hold?")
def files(question: FilesQuestion, ledger: LedgerHere) -> FilesAnswer:
    """Answer for each file; of one that no record here names there is nothing."""
    named = ledger.named()
    arriving = ledger.arriving
    for digest in named.taken_back.intersection(arriving.files.digests()):
        arriving.files.remove(digest)
    return FilesAnswer(
        files=[
            FileForm.of(arriving.here(digest))
            if digest in named.standing
            else FileForm(whole=False, bytes=0)
            for digest in question.digests
        ]
    )


_PIECE: dict[str, Any] = {limits.PIECE: {"schema": {"type": "string", "format": "binary"}}}


async def _piece(request: Request, _: DeviceHere) -> bytes:
    """Return the body; only a paired phone's is read."""
    try:
        return await request.body()
    except ClientDisconnect:
        raise malformed("The piece of a file was cut off.") from None


@router.put(
    FILES + "/{digest}",
    summary="Send a piece of a file",
    openapi_extra={"requestBody": {"required": True, "content": _PIECE}},
)
def put(
    digest: DigestHere,
    at: At,
    of: Of,
    piece: Annotated[bytes, Depends(_piece)],
    ledger: LedgerHere,
) -> FileForm:
    """Take a piece in where the last one ended; say in any case how much is here now."""
    _named(ledger, digest)
    if len(piece) > limits.PIECE_BYTES:
        raise ApiError(
            HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
            "too_large",
            say("A piece of a file is larger than {most} bytes.", most=limits.PIECE_BYTES),
            say("Send smaller pieces; nothing was taken in."),
        )
    try:
        return FileForm.of(ledger.arriving.add(digest, at, piece, of))
    except FileAltered as wrong:
        raise ApiError(
            HTTPStatus.BAD_REQUEST,
            "altered",
            say("The file did not arrive as its record names it."),
            say("Send it again from its beginning; nothing of it was kept."),
        ) from wrong


@router.get(
    FILES + "/{digest}",
    summary="Fetch a piece of a file",
    response_class=Response,
    responses={200: {"content": _PIECE}},
)
def get(digest: DigestHere, at: At, ledger: LedgerHere) -> Response:
    """Return what begins at a byte of a whole file, compared with its SHA-256 before."""
    _named(ledger, digest)
    try:
        data = ledger.arriving.files.read(digest)
    except (FileAltered, FileAway) as wrong:
        # From now on it is one that lacks: whichever phone has it brings it again.
        raise _away() from wrong
    return Response(data[at : at + limits.PIECE_BYTES], media_type=limits.PIECE)


def _named(ledger: Ledger, digest: str) -> None:
    if digest not in ledger.named().standing:
        raise _away()


def _away() -> ApiError:
    return ApiError(
        HTTPStatus.NOT_FOUND,
        "no_file",
        say("The server has no such file, or no record that names it."),
        say("Sync again: records come first, and whichever phone has the file brings it."),
    )
