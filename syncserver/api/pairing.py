"""Pairing: a one-time code in, a device token out."""

from __future__ import annotations

from http import HTTPStatus

from fastapi import APIRouter, Request

from fieldapp.wire import invitation
from syncserver.api.access import DeviceHere, LedgerHere, PartsHere
from syncserver.api.errors import ApiError
from syncserver.api.models import OperationAnswer, PairAnswer, PairQuestion
from syncserver.pairing.desk import CodeRefused
from syncserver.rates import Rates, TooOften

router = APIRouter()


@router.post("/pair", summary="Pair a phone by a one-time code")
def pair(request: Request, question: PairQuestion, parts: PartsHere) -> PairAnswer:
    """Use a code up and return a token for a new device."""
    rates: Rates = request.app.state.rates
    try:
        with rates.trying("pair", request):
            paired = parts.desk.pair(invitation.plain(question.code), question.device)
    except TooOften as wrong:
        raise ApiError(HTTPStatus.TOO_MANY_REQUESTS, "too_often", wrong.what, wrong.do) from wrong
    except CodeRefused as wrong:
        raise ApiError(HTTPStatus.FORBIDDEN, f"code_{wrong.why}", wrong.what, wrong.do) from wrong
    return PairAnswer(
        token=paired.token,
        device=paired.device.id,
        operation=paired.operation.id,
        operation_name=paired.operation.name,
    )


@router.get("/operation", summary="What the operation holds")
def operation(parts: PartsHere, device: DeviceHere, ledger: LedgerHere) -> OperationAnswer:
    """Return the operation's name, its number of records and its apiaries."""
    known = parts.store.operation(device.operation)
    with ledger.book() as book:
        apiaries = [apiary.name for apiary in book.apiaries(parts.clock.today())]
    return OperationAnswer(
        operation=device.operation,
        operation_name=known.name if known else "",
        records=ledger.journal.count(),
        apiaries=apiaries,
    )
