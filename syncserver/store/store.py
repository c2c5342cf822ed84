"""The interface of a store. Every backend passes ``tests/contract/store_contract.py``.

Secrets never reach a store: codes, tokens and session ids come as SHA-256 digests, passwords as
argon2 hashes. Times are whole seconds since 1970, UTC, and come in as arguments.
"""

from __future__ import annotations

from typing import Literal, NamedTuple, Protocol

Purpose = Literal["device", "page"]


class Operation(NamedTuple):
    """The people and apiaries that belong together; one journal belongs to one."""

    id: str
    name: str
    created: int


class Device(NamedTuple):
    """A paired phone. `revoked` and `seen` are None until that happened.

    `rules` and `library` are by what it last said it computes, None where it never said so.
    """

    id: str
    operation: str
    name: str
    paired: int
    seen: int | None
    revoked: int | None
    rules: int | None = None
    library: str | None = None


class Session(NamedTuple):
    """A browser that is logged in to the pages of an operation until `expires`."""

    operation: str
    expires: int


class CodeState(NamedTuple):
    """What became of a try with a code: the operation it opens, or why it opens none."""

    operation: str | None
    why: Literal["", "wrong", "used", "late"]


class Store(Protocol):
    """What a backend does. Every method is one transaction and safe to call from any thread."""

    def add_operation(self, operation: Operation) -> None:
        """Add an operation; raise `NameTaken` where another has its name."""

    def operations(self) -> list[Operation]:
        """Return all operations, oldest first."""

    def operation(self, operation: str) -> Operation | None:
        """Return one operation by id."""

    def add_code(self, digest: bytes, operation: str, purpose: Purpose, expires: int) -> None:
        """Add a one-time code, known by its digest."""

    def redeem(self, digest: bytes, purpose: Purpose, now: int, guesses: int) -> CodeState:
        """Use a code up.

        A code opens once, before `expires`, for its purpose. A try that no code fits is a wrong
        guess against every open code of that purpose; after `guesses` of them a code is dead.
        Of two tries at one instant at most one gets the operation.
        """

    def add_device(self, device: Device, token: bytes) -> None:
        """Add a paired device and the digest of its token."""

    def device(self, token: bytes) -> Device | None:
        """Return the device with this token digest, revoked or not."""

    def devices(self) -> list[Device]:
        """Return all devices, oldest first."""

    def revoke(self, device: str, now: int) -> bool:
        """Revoke a device's token; tell whether there was such a device, not yet revoked."""

    def seen(self, device: str, now: int) -> None:
        """Note when a device was last there."""

    def computes(self, device: str, rules: int, library: str) -> None:
        """Note by which rules and library a device computes."""

    def set_password(self, operation: str, argon2: str) -> None:
        """Set the page password of an operation and end its sessions."""

    def password(self, operation: str) -> str | None:
        """Return the argon2 hash of an operation's page password, if one is set."""

    def add_session(self, digest: bytes, session: Session) -> None:
        """Add a browser session, known by the digest of its id."""

    def session(self, digest: bytes, now: int) -> Session | None:
        """Return a session that has not expired."""

    def end_session(self, digest: bytes) -> None:
        """End a session; one that is not there is no error."""

    def copy_to(self, path: str) -> None:
        """Write a consistent copy of everything into a new file."""

    def close(self) -> None:
        """Let go of files and connections."""
