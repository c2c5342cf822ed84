"""Gives out one-time codes and takes them back for device tokens and page sessions."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from typing import NamedTuple

from argon2 import PasswordHasher
from argon2.exceptions import Argon2Error, InvalidHashError

from fieldapp.wire import invitation
from fieldapp.words import say
from syncserver.errors import ServerError
from syncserver.store import Device, Operation, Session, Store
from syncserver.store.store import Purpose

CODE_SECONDS = 15 * 60
GUESSES = 10
SESSION_SECONDS = 30 * 24 * 3600
PASSWORD_LEAST = 8

# The least that OWASP's password storage cheat sheet names for argon2id; a home server may be
# a small board, and the library's default takes 64 MiB a log-in.
_ARGON2_KIB = 19 * 1024


class CodeRefused(ServerError):
    """A one-time code that opens nothing. `why` is ``wrong``, ``used`` or ``late``."""

    def __init__(self, why: str) -> None:
        what, do = _CODE_WORDS[why]
        super().__init__(what, do)
        self.why = why


_NEW_CODE = say("Get a new one on the server with: apiary-rounds-server code")
_CODE_WORDS = {
    "wrong": (
        say("This is not a code of this server."),
        say("Look at it again. {new}", new=_NEW_CODE),
    ),
    "used": (say("This code was used already; each opens once."), _NEW_CODE),
    "late": (say("This code is too old, or there were too many wrong ones."), _NEW_CODE),
}


class PasswordRefused(ServerError):
    """A page password that is wrong, or too short to be set."""


class Paired(NamedTuple):
    """A fresh device with its token, which is told this once and kept only as a digest."""

    device: Device
    operation: Operation
    token: str


class Desk:
    """The front desk: codes out, tokens and sessions in return.

    `clock` returns whole seconds since 1970; `entropy(n)` returns n unguessable bytes.
    """

    def __init__(
        self, store: Store, clock: Callable[[], int], entropy: Callable[[int], bytes]
    ) -> None:
        self._store = store
        self._clock = clock
        self._entropy = entropy
        self._hasher = PasswordHasher(time_cost=2, memory_cost=_ARGON2_KIB, parallelism=1)
        # No password fits it: an unknown name takes as long to refuse as a wrong password.
        self._nobody = self._hasher.hash(entropy(32))

    def new_code(self, operation: str, purpose: Purpose) -> str:
        """Return the secret of a new one-time code: 7 symbols, good for 15 minutes."""
        secret = invitation.secret_from(self._entropy(5))
        self._store.add_code(_digest(secret), operation, purpose, self._clock() + CODE_SECONDS)
        return secret

    def pair(self, secret: str, name: str) -> Paired:
        """Use a device code up and return a new device; raise `CodeRefused`."""
        operation = self._redeem(secret, "device")
        token = self._entropy(32).hex()
        device = Device(self._entropy(16).hex(), operation.id, name, self._clock(), None, None)
        self._store.add_device(device, _digest(token))
        return Paired(device, operation, token)

    def device(self, token: str) -> Device | None:
        """Return the device of a token, revoked or not, or None where there is none."""
        return self._store.device(_digest(token))

    def first_password(self, typed: str, password: str) -> str:
        """Use a page code up, set the page password, and return a new session's id."""
        if len(password) < PASSWORD_LEAST:
            raise PasswordRefused(
                say("The password needs at least {n} characters.", n=PASSWORD_LEAST),
                say("Three words that are easy to remember make a good one."),
            )
        operation = self._redeem(_page_secret(typed), "page")
        self._store.set_password(operation.id, self._hasher.hash(password))
        return self._begin(operation.id)

    def log_in(self, name: str, password: str) -> str:
        """Return a new session's id; raise `PasswordRefused`, the same for any cause."""
        operation = next((one for one in self._store.operations() if one.name == name), None)
        known = self._store.password(operation.id) if operation else None
        try:
            self._hasher.verify(known or self._nobody, password)
        except (Argon2Error, InvalidHashError):
            operation = None
        if operation is None or known is None:
            raise PasswordRefused(
                say("Operation and password do not fit together."), say("Try again.")
            )
        return self._begin(operation.id)

    def session(self, session_id: str) -> Session | None:
        """Return the session of an id that a browser sent."""
        return self._store.session(_digest(session_id), self._clock())

    def log_out(self, session_id: str) -> None:
        """End a session."""
        self._store.end_session(_digest(session_id))

    def _begin(self, operation: str) -> str:
        session_id = self._entropy(32).hex()
        ends = self._clock() + SESSION_SECONDS
        self._store.add_session(_digest(session_id), Session(operation, ends))
        return session_id

    def _redeem(self, secret: str, purpose: Purpose) -> Operation:
        state = self._store.redeem(_digest(secret), purpose, self._clock(), GUESSES)
        operation = self._store.operation(state.operation) if state.operation else None
        if operation is None:
            raise CodeRefused(state.why)
        return operation


def page_code(secret: str) -> str:
    """Return a page code as it is shown: two groups of four, the last symbol a check."""
    return invitation.grouped(invitation.with_check(secret))


def _page_secret(typed: str) -> str:
    symbols = invitation.plain(typed)
    if not symbols or invitation.with_check(symbols[:-1]) != symbols:
        raise CodeRefused("wrong")
    return symbols[:-1]


def _digest(secret: str) -> bytes:
    """Return the form in which a secret is stored.

    Tokens and session ids are 256 random bits, so a plain SHA-256 cannot be searched; a code is
    dead before its 35 bits could be.
    """
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).digest()
