"""The one shape of an error on the wire: ``{"error": {"code", "what", "do"}}``.

`code` is for programs and never changes; `what` was wrong and what to `do` are for people.
"""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from starlette.exceptions import HTTPException

from fieldapp.words import Phrase, Speech, say


class ApiError(HTTPException):
    """An answer other than success, in the one shape."""

    def __init__(
        self, status: HTTPStatus, code: str, what: Phrase | str, do: Phrase | str = ""
    ) -> None:
        headers = {"WWW-Authenticate": "Bearer"} if status == HTTPStatus.UNAUTHORIZED else None
        super().__init__(status, Speech()(what), headers)
        self.code = code
        self.what = what
        self.do = do


def shape(code: str, what: str, do: str = "") -> dict[str, Any]:
    """Return an error's body."""
    return {"error": {"code": code, "what": what, "do": do}}


def too_large(most: int) -> ApiError:
    """Return the error for a body over its bound."""
    return ApiError(
        HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
        "too_large",
        say("The body is larger than {most} bytes.", most=most),
        say("Send fewer records at once; nothing was taken in."),
    )


def too_slow() -> ApiError:
    """Return the error for a body that does not arrive."""
    return ApiError(
        HTTPStatus.REQUEST_TIMEOUT,
        "too_slow",
        say("The body did not arrive in time."),
        say("Try again; nothing was taken in."),
    )


def malformed(what: str) -> ApiError:
    """Return the error for a body that cannot be read."""
    return ApiError(
        HTTPStatus.BAD_REQUEST, "malformed", what, say("Send it again; nothing was taken in.")
    )
