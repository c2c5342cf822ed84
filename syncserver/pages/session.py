"""Who looks at a page: the browser's session, and that a form came from a page of this server."""

from __future__ import annotations

from http import HTTPStatus
from typing import Annotated
from urllib.parse import urlsplit

from fastapi import Depends, Request
from fastapi.responses import RedirectResponse, Response

from fieldapp.words import say
from syncserver.api.access import PartsHere
from syncserver.api.errors import ApiError
from syncserver.pairing.desk import SESSION_SECONDS
from syncserver.store import Operation

COOKIE = "__Host-session"


class LoginNeeded(Exception):
    """A page that is shown only to those who are logged in."""


def logged_in(request: Request, parts: PartsHere) -> Operation:
    """Return the operation whose pages this browser may see; raise `LoginNeeded`."""
    session = parts.desk.session(request.cookies.get(COOKIE, ""))
    operation = parts.store.operation(session.operation) if session else None
    if operation is None:
        raise LoginNeeded
    return operation


OperationHere = Annotated[Operation, Depends(logged_in)]


def own_form(request: Request) -> None:
    """Refuse a form that another site sent.

    Every browser names the origin of a POST. The session's cookie is SameSite=Strict as well;
    this also covers the forms that come before a session.
    """
    origin = urlsplit(request.headers.get("origin", ""))
    if origin.scheme != "https" or origin.netloc != request.headers.get("host"):
        raise ApiError(
            HTTPStatus.FORBIDDEN,
            "foreign_form",
            say("This form did not come from a page of this server."),
            say("Open the page again and send it from there."),
        )


OwnForm = Depends(own_form)


def begin(session_id: str) -> Response:
    """Return the way to the agenda with a session's cookie."""
    response = RedirectResponse("/", HTTPStatus.SEE_OTHER)
    response.set_cookie(
        COOKIE,
        session_id,
        max_age=SESSION_SECONDS,
        path="/",
        secure=True,
        httponly=True,
        samesite="strict",
    )
    return response


def end() -> Response:
    """Return the way to the log-in with the cookie taken away."""
    response = RedirectResponse("/log-in", HTTPStatus.SEE_OTHER)
    response.delete_cookie(COOKIE, path="/", secure=True, httponly=True, samesite="strict")
    return response
