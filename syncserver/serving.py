"""Runs the server: one port, HTTPS from the first start."""

from __future__ import annotations

import errno
import signal
import socket
from contextlib import suppress
from types import FrameType

import uvicorn

from syncserver.app import create_app
from syncserver.bootstrap import Parts
from syncserver.errors import ServerError

_WORDS = {
    errno.EADDRINUSE: "another program listens there; is a server running already?",
    errno.EACCES: "this user may not use that port; take one above 1023.",
    errno.EADDRNOTAVAIL: "this machine has no such address.",
}


def listen(host: str, port: int) -> socket.socket:
    """Return a socket that listens; connections wait in it until `run` takes them.

    :raises ServerError: where host and port cannot be had, saying why.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named as TCP: only of such sockets does asyncio let small answers out at once.
    listener = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        listener.listen(128)
    except OSError as wrong:
        listener.close()
        why = _WORDS.get(wrong.errno or 0, f"{wrong.strerror or wrong}.")
        raise ServerError(
            f"Cannot listen on {host}, port {port}: {why}", "Name another with --port or --host."
        ) from wrong
    return listener


def configured(parts: Parts) -> uvicorn.Config:
    """Return how the server is run: HTTPS by its own certificate, bounded in every way."""
    return uvicorn.Config(
        create_app(parts),
        ssl_certfile=str(parts.folder.certificate),
        ssl_keyfile=str(parts.folder.key),
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        lifespan="on",
        ws="none",
        timeout_keep_alive=75,
        timeout_graceful_shutdown=10,
        limit_concurrency=200,
        h11_max_incomplete_event_size=32 * 1024,
    )


def run(parts: Parts, listener: socket.socket) -> None:
    """Serve until the process is told to stop; requests under way are finished first."""
    with suppress(KeyboardInterrupt):
        uvicorn.Server(configured(parts)).run(sockets=[listener])


def end_in_order() -> None:
    """Let a request to terminate close the files, as Ctrl-C does.

    Having finished, uvicorn raises the signal that ended it once more; the system's own way
    of taking it would end the process on the spot.
    """
    signal.signal(signal.SIGTERM, _leave)


def _leave(_: int, __: FrameType | None) -> None:
    raise SystemExit(0)
