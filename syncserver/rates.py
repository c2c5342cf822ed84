"""How often an address may try a code or a password."""

from __future__ import annotations

from limits import RateLimitItem, parse
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from syncserver.errors import ServerError

TRIES = "10/minute"


class TooOften(ServerError):
    """Too many tries from one address."""

    def __init__(self) -> None:
        super().__init__("Too many tries.", "Wait a minute, then try again.")


class Rates:
    """Counts tries by address.

    The server is one process, so the counters are its own memory; the guesses that kill a code
    are counted in the store and outlive a restart.
    """

    def __init__(self, tries: str = TRIES) -> None:
        self._limit: RateLimitItem = parse(tries)
        self._limiter = MovingWindowRateLimiter(MemoryStorage())

    def spend(self, what: str, address: str) -> None:
        """Count one try; raise `TooOften` where that is one too many."""
        if not self._limiter.hit(self._limit, what, address):
            raise TooOften
