"""Puts the routes, the guards and the one error shape together."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from http import HTTPStatus
from importlib.resources import files

from anyio.to_thread import current_default_thread_limiter
from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from fieldapp.journal.errors import Full, JournalError
from fieldapp.wire import limits
from fieldapp.words import Phrase, Speech, say
from syncserver.api import files as file_routes
from syncserver.api import pairing, sync
from syncserver.api.errors import ApiError, shape
from syncserver.bootstrap import Parts
from syncserver.errors import ServerError
from syncserver.guards import BoundedBodies, SafeHeaders
from syncserver.pages import questions
from syncserver.pages import routes as pages
from syncserver.pages.rendering import wrong_page
from syncserver.pages.session import LoginNeeded
from syncserver.rates import Rates

API = f"/api/{limits.PROTOCOL}"

# Each thread has a connection to each journal and an arena of memory; a home has few phones.
_THREADS = 4

_OTHER_VERSION = say("Is the app older or newer than the server? Bring both up to date.")


def create_app(parts: Parts) -> FastAPI:
    """Return the server as an ASGI application over joined parts."""
    app = FastAPI(
        title="Apiary Rounds home server",
        version=str(limits.PROTOCOL),
        lifespan=_lifespan,
        docs_url=None,  # its page would load scripts from elsewhere
        redoc_url=None,
        openapi_url=f"{API}/openapi.json",
    )
    app.state.parts = parts
    app.state.rates = Rates()
    app.include_router(pairing.router, prefix=API, tags=["pairing"])
    app.include_router(sync.router, prefix=API, tags=["sync"])
    app.include_router(file_routes.router, prefix=API, tags=["files"])
    app.include_router(pages.router, include_in_schema=False)
    app.include_router(questions.router, include_in_schema=False)
    app.mount("/static", StaticFiles(directory=str(files("syncserver.pages") / "static")))
    app.add_exception_handler(HTTPException, _http_error)
    app.add_exception_handler(RequestValidationError, _unfit_question)
    app.add_exception_handler(LoginNeeded, pages.login_needed)
    app.add_exception_handler(JournalError, _journal_error)
    app.add_exception_handler(ServerError, _server_error)
    app.add_exception_handler(Exception, _unexpected)
    app.add_middleware(
        BoundedBodies, most=limits.JSON_BYTES, larger={API + sync.PUSH: limits.BATCH_BYTES}
    )
    app.add_middleware(SafeHeaders)
    return app


@asynccontextmanager
async def _lifespan(_: FastAPI) -> AsyncIterator[None]:
    current_default_thread_limiter().total_tokens = _THREADS
    yield


def _answer(
    request: Request, status: int, code: str, what: Phrase | str, do: Phrase | str
) -> Response:
    """Return an error as JSON to a program, in English, and as a page to a browser."""
    if request.url.path.startswith("/api/"):
        english = Speech()
        return JSONResponse(shape(code, english(what), english(do)), status)
    return HTMLResponse(wrong_page(request, what, do), status)


async def _http_error(request: Request, wrong: Exception) -> Response:
    if isinstance(wrong, ApiError):
        response = _answer(request, wrong.status_code, wrong.code, wrong.what, wrong.do)
    elif isinstance(wrong, HTTPException):
        code = HTTPStatus(wrong.status_code).name.lower()
        response = _answer(
            request,
            wrong.status_code,
            code,
            _not_served(wrong.status_code, request.url.path),
            _OTHER_VERSION,
        )
    else:
        raise wrong
    response.headers.update(wrong.headers or {})
    return response


def _not_served(status: int, path: str) -> Phrase:
    if status == HTTPStatus.NOT_FOUND:
        return say("There is nothing at {path}.", path=path)
    return say("{path}: not served ({status}).", path=path, status=status)


async def _unfit_question(request: Request, wrong: Exception) -> Response:
    if not isinstance(wrong, RequestValidationError):
        raise wrong
    first = wrong.errors()[0]
    where = ".".join(str(part) for part in first["loc"])
    return _answer(
        request,
        HTTPStatus.UNPROCESSABLE_ENTITY,
        "unfit",
        say("The question does not fit at {where}: {why}.", where=where, why=str(first["msg"])),
        _OTHER_VERSION,
    )


async def _journal_error(request: Request, wrong: Exception) -> Response:
    if not isinstance(wrong, JournalError):
        raise wrong
    status = HTTPStatus.INSUFFICIENT_STORAGE if isinstance(wrong, Full) else 503
    code = "server_full" if isinstance(wrong, Full) else "server_journal"
    return _answer(request, status, code, say("On the server: {wrong}", wrong=wrong.phrase), "")


async def _server_error(request: Request, wrong: Exception) -> Response:
    if not isinstance(wrong, ServerError):
        raise wrong
    return _answer(request, 503, "server_store", wrong.what, wrong.do)


async def _unexpected(request: Request, _: Exception) -> Response:
    # The traceback goes to the server's log; a stranger is shown none of it.
    return _answer(
        request,
        HTTPStatus.INTERNAL_SERVER_ERROR,
        "server_fault",
        say("The server met a fault of its own."),
        say("Try again; look at the server's terminal if it stays. Nothing on the phone is lost."),
    )
