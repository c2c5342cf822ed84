"""The pages: agenda and honey, a hive, the records that need an eye, and the way in."""

from __future__ import annotations

from contextlib import AbstractContextManager
from datetime import UTC, date, datetime
from http import HTTPStatus
from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from fieldapp.words.speech import Speech
from syncserver.api.access import PartsHere
from syncserver.api.errors import ApiError
from syncserver.bootstrap import FIRST_OPERATION, today
from syncserver.errors import ServerError
from syncserver.pages import keeping
from syncserver.pages.session import COOKIE, OperationHere, OwnForm, begin, end
from syncserver.pages.view import View
from syncserver.rates import Rates, TooOften
from syncserver.store import Device

router = APIRouter(default_response_class=HTMLResponse)
_templates = Environment(
    loader=PackageLoader("syncserver.pages"),
    autoescape=select_autoescape(default=True),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_speech = Speech()

Day = Annotated[date | None, Query(alias="day")]
Text = Annotated[str, Form(max_length=200)]


def _page(template: str, status: int = 200, **values: Any) -> HTMLResponse:
    return HTMLResponse(
        _templates.get_template(template).render({"operation": None} | values), status
    )


def wrong_page(title: str, what: str, do: str) -> str:
    """Return the page that says what went wrong and what to do."""
    values = {"operation": None, "title": title, "what": what, "do": do}
    return _templates.get_template("wrong.html").render(values)


@router.get("/")
def agenda(parts: PartsHere, operation: OperationHere, day: Day = None) -> Response:
    """Show the merged agenda and each hive's honey."""
    asked = day or today()
    with parts.journals.of(operation.id).book() as book:
        view = View(book, asked, _speech)
        return _page(
            "agenda.html",
            operation=operation,
            day=asked.isoformat(),
            spoken_day=_speech.day(asked),
            lines=view.agenda(),
            apiaries=view.apiaries(),
            questions=view.questions(),
        )


@router.get("/hives/{hive}")
def hive_page(parts: PartsHere, operation: OperationHere, hive: str, day: Day = None) -> Response:
    """Show one hive: honey with its causes, and what is due."""
    asked = day or today()
    with parts.journals.of(operation.id).book() as book:
        view = View(book, asked, _speech)
        if not view.knows(hive):
            raise ApiError(
                HTTPStatus.NOT_FOUND, "not_found", "There is no such hive here.", "See the agenda."
            )
        return _page(
            "hive.html",
            operation=operation,
            day=asked.isoformat(),
            spoken_day=_speech.day(asked),
            hive=view.hive(hive),
            closed=view.closed(hive),
            exposed=view.exposed(hive),
            lines=view.items(hive),
        )


@router.get("/records")
def records(parts: PartsHere, operation: OperationHere) -> Response:
    """Show what was not understood or refused, and which phones are paired."""
    journal = parts.journals.of(operation.id).journal
    return _page(
        "records.html",
        operation=operation,
        total=keeping.total(journal, _speech),
        not_understood=keeping.not_understood(journal, _speech),
        refused=keeping.not_taken(journal, _speech),
        missing=keeping.missing(journal, _speech),
        devices=[
            {
                "name": device.name,
                "paired": _date(device.paired),
                "last": _last(device),
            }
            for device in parts.store.devices()
            if device.operation == operation.id
        ],
    )


@router.get("/log-in")
def log_in_page() -> Response:
    """Show the log-in."""
    return _page("login.html", wrong="", name=FIRST_OPERATION)


@router.post("/log-in", dependencies=[OwnForm])
def log_in(request: Request, parts: PartsHere, operation: Text, password: Text) -> Response:
    """Begin a session by the password."""
    try:
        with _trying(request):
            return begin(parts.desk.log_in(operation, password))
    except ServerError as wrong:
        return _page("login.html", _status(wrong), wrong=str(wrong), name=operation)


@router.get("/first")
def first_page() -> Response:
    """Show the form that sets the password."""
    return _page("first.html", wrong="")


@router.post("/first", dependencies=[OwnForm])
def first(request: Request, parts: PartsHere, code: Text, password: Text) -> Response:
    """Set the password by a page code and begin a session."""
    try:
        with _trying(request):
            return begin(parts.desk.first_password(code, password))
    except ServerError as wrong:
        return _page("first.html", _status(wrong), wrong=str(wrong))


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


def _last(device: Device) -> str:
    if device.revoked is not None:
        return f"revoked {_date(device.revoked)}"
    return "never" if device.seen is None else _date(device.seen)


def _date(seconds: int) -> str:
    return _speech.day(datetime.fromtimestamp(seconds, UTC).astimezone().date())
