"""What stands before every route: bodies bounded in size and time, headers that close the rest."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from syncserver.api.errors import too_large, too_slow

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "Cache-Control": "no-store",
}


class SafeHeaders:
    """Adds the headers that keep a page to itself to every answer that does not set its own."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one connection."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        await self._app(scope, receive, send_with_headers)


class BoundedBodies:
    """Refuses a body over its bound as soon as that is known, or one not here in `seconds`.

    `most` bytes are the bound; `larger` gives paths a bound of their own.
    """

    def __init__(
        self, app: ASGIApp, most: int, larger: Mapping[str, int], seconds: float = 60.0
    ) -> None:
        self._app = app
        self._most = most
        self._larger = larger
        self._seconds = seconds

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one connection."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        most = self._larger.get(scope["path"], self._most)
        declared = Headers(scope=scope).get("content-length", "0")
        announced = int(declared[:15]) if declared.isdecimal() else 0
        ends = asyncio.get_running_loop().time() + self._seconds
        size = 0
        whole = False

        async def receive_bounded() -> Message:
            nonlocal size, whole
            if announced > most:
                raise too_large(most)
            if whole:
                return await receive()
            try:
                async with asyncio.timeout_at(ends):
                    message = await receive()
            except TimeoutError:
                raise too_slow() from None
            size += len(message.get("body", b""))
            if size > most:
                raise too_large(most)
            whole = not message.get("more_body", False)
            return message

        await self._app(scope, receive_bounded, send)
