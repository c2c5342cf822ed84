"""The pages: agenda and honey, a hive, the records that need an eye, and the way in."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import AbstractContextManager
from datetime import date
from http import HTTPStatus
from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from fieldapp.journal import oddities
from fieldapp.words import Speech, count, say
from syncserver.api.access import PartsHere
from syncserver.api.errors import ApiError
from syncserver.bootstrap import FIRST_OPERATION, versions
from syncserver.errors import ServerError
from syncserver.pages.language import SpeechHere, at_home
from syncserver.pages.phones import own, phones
from syncserver.pages.questions import desk_of
from syncserver.pages.rendering import page
from syncserver.pages.session import COOKIE, OperationHere, OwnForm, begin, end
from syncserver.pages.view import View
from syncserver.rates import Rates, TooOften

router = APIRouter(default_response_class=HTMLResponse)

Day = Annotated[date | None, Query(alias="day")]
Text = Annotated[str, Form(max_length=200)]


@router.get("/")
def agenda(
    parts: PartsHere, operation: OperationHere, speech: SpeechHere, day: Day = None
) -> Response:
    """Show the merged agenda and each hive's honey."""
    asked = day or parts.clock.today()
    with desk_of(parts, operation) as desk:
        speech = at_home(speech, desk.book, asked)
        view = View(desk.book, asked, speech)
        questions = desk.questions(speech)
        return page(
            "agenda.html",
            speech,
            operation=operation,
            day=asked.isoformat(),
            spoken_day=speech.day(asked),
            lines=view.agenda(),
            apiaries=view.apiaries(),
            questions=questions,
        )


@router.get("/hives/{hive}")
def hive_page(
    parts: PartsHere, operation: OperationHere, speech: SpeechHere, hive: str, day: Day = None
) -> Response:
    """Show one hive: honey with its causes, and what is due."""
    asked = day or parts.clock.today()
    with parts.journals.of(operation.id).book() as book:
        speech = at_home(speech, book, asked)
        view = View(book, asked, speech)
        if not view.knows(hive):
            raise ApiError(
                HTTPStatus.NOT_FOUND,
                "not_found",
                say("There is no such hive here."),
                say("See the agenda."),
            )
        return page(
            "hive.html",
            speech,
            operation=operation,
            day=asked.isoformat(),
            spoken_day=speech.day(asked),
            hive=view.hive(hive),
            closed=view.closed(hive),
            exposed=view.exposed(hive),
            lines=view.items(hive),
        )


@router.get("/records")
def records(parts: PartsHere, operation: OperationHere, speech: SpeechHere) -> Response:
    """Show what was not understood or refused, and which phones are paired."""
    journal = parts.journals.of(operation.id).journal
    mine = [device for device in parts.store.devices() if device.operation == operation.id]
    return page(
        "records.html",
        speech,
        operation=operation,
        total=speech(count("{n} record held here.", "{n} records held here.", journal.count())),
        not_understood=_spoken(oddities.not_understood(journal), speech),
        other_contents=_spoken(oddities.other_contents(journal), speech),
        refused=_spoken(oddities.not_taken(journal, "us"), speech),
        missing=_spoken(oddities.missing(journal), speech),
        set_aside=_spoken(oddities.set_aside(journal), speech),
        counts=speech(own(versions())),
        phones=phones(mine, versions(), speech),
    )


def _spoken(odd: Iterable[oddities.Odd], speech: Speech) -> list[dict[str, str]]:
    return [{"words": speech(one.words), "place": speech(one.place)} for one in odd]


@router.get("/log-in")
def log_in_page(speech: SpeechHere) -> Response:
    """Show the log-in."""
    return page("login.html", speech, wrong="", name=FIRST_OPERATION)


@router.post("/log-in", dependencies=[OwnForm])
def log_in(
    request: Request, parts: PartsHere, speech: SpeechHere, operation: Text, password: Text
) -> Response:
    """Begin a session by the password."""
    try:
        with _trying(request):
            return begin(parts.desk.log_in(operation, password))
    except ServerError as wrong:
        words = _words(wrong, speech)
        return page("login.html", speech, _status(wrong), wrong=words, name=operation)


@router.get("/first")
def first_page(speech: SpeechHere) -> Response:
    """Show the form that sets the password."""
    return page("first.html", speech, wrong="")


@router.post("/first", dependencies=[OwnForm])
def first(
    request: Request, parts: PartsHere, speech: SpeechHere, code: Text, password: Text
) -> Response:
    """Set the password by a page code and begin a session."""
    try:
        with _trying(request):
            return begin(parts.desk.first_password(code, password))
    except ServerError as wrong:
        return page("first.html", speech, _status(wrong), wrong=_words(wrong, speech))


@router.post("/log-out", dependencies=[OwnForm])
def log_out(request: Request, parts: PartsHere) -> Response:
    """End the session."""
    parts.desk.log_out(request.cookies.get(COOKIE, ""))
    return end()


def login_needed(_: Request, __: Exception) -> Response:
    """Send a browser without a session to the log-in."""
    return RedirectResponse("/log-in", HTTPStatus.SEE_OTHER)


def _trying(request: Request) -> AbstractContextManager[None]:
    rates: Rates = request.app.state.rates
    return rates.trying("page", request)


def _status(wrong: ServerError) -> int:
    return HTTPStatus.TOO_MANY_REQUESTS if isinstance(wrong, TooOften) else HTTPStatus.FORBIDDEN


def _words(wrong: ServerError, speech: Speech) -> str:
    return f"{speech(wrong.what)} {speech(wrong.do)}".strip()
