"""How often an address may try a code or a password."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from fastapi import Request
from limits import RateLimitItem, parse
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from fieldapp.words import say
from syncserver.errors import ServerError

TRIES = "10/minute"


class TooOften(ServerError):
    """Too many tries from one address."""

    def __init__(self) -> None:
        super().__init__(say("Too many tries."), say("Wait a minute, then try again."))


class Rates:
    """Counts tries by address; one that succeeds clears the count.

    The server is one process, so the counters are its own memory; the guesses that kill a code
    are counted in the store and outlive a restart.
    """

    def __init__(self, tries: str = TRIES) -> None:
        self._limit: RateLimitItem = parse(tries)
        self._limiter = MovingWindowRateLimiter(MemoryStorage())

    @contextmanager
    def trying(self, what: str, request: Request) -> Iterator[None]:
        """Hold one try; raise `TooOften` before it where that is one too many."""
        address = request.client.host if request.client else ""
        if not self._limiter.hit(self._limit, what, address):
            raise TooOften
        yield
        self._limiter.clear(self._limit, what, address)
