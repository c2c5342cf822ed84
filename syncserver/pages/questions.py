"""The page of questions: each is answered by a form of its own, without a script."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from http import HTTPStatus
from typing import Annotated

from fastapi import APIRouter, Form
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from fieldapp.words import Speech
from syncserver.api.access import PartsHere
from syncserver.bootstrap import Parts
from syncserver.operations import keeper_of
from syncserver.pages.desk import Desk, Given, Refused
from syncserver.pages.language import SpeechHere
from syncserver.pages.rendering import page
from syncserver.pages.session import OperationHere, OwnForm
from syncserver.store import Operation

router = APIRouter(default_response_class=HTMLResponse)

Text = Annotated[str, Form(max_length=200)]


@contextmanager
def desk_of(parts: Parts, operation: Operation) -> Iterator[Desk]:
    """Hold the desk of an operation; nobody else asks its book meanwhile."""
    ledger = parts.journals.of(operation.id)
    with ledger.book() as book:
        keeper = keeper_of(operation.id)
        yield Desk(ledger.journal, book, keeper, parts.clock.ms, secrets.token_bytes)


@router.get("/questions")
def questions(
    parts: PartsHere, operation: OperationHere, speech: SpeechHere, answered: bool = False
) -> Response:
    """Show what only the keeper can answer."""
    with desk_of(parts, operation) as desk:
        return _shown(desk, operation, speech, answered=answered)


@router.post("/questions/{key}", dependencies=[OwnForm])
def answer(
    parts: PartsHere,
    operation: OperationHere,
    speech: SpeechHere,
    key: str,
    answer: Text = "",
    number: Text = "",
    keeper: Text = "",
) -> Response:
    """Write an answer; the phones hear of it with their next sync."""
    with desk_of(parts, operation) as desk:
        try:
            desk.answer(key, Given(answer, number, keeper))
        except Refused as wrong:
            words = speech(wrong.phrase)
            return _shown(desk, operation, speech, HTTPStatus.CONFLICT, wrong=words)
    return RedirectResponse("/questions?answered=true", HTTPStatus.SEE_OTHER)


def _shown(
    desk: Desk,
    operation: Operation,
    speech: Speech,
    status: int = HTTPStatus.OK,
    *,
    answered: bool = False,
    wrong: str = "",
) -> Response:
    return page(
        "questions.html",
        speech,
        status,
        operation=operation,
        questions=desk.questions(speech),
        keepers=desk.keepers(),
        answered=answered,
        wrong=wrong,
    )
