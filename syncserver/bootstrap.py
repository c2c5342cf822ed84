"""Joins the real parts of the server: the only place where clock and chance come from."""

from __future__ import annotations

import secrets
from functools import cache
from pathlib import Path
from typing import NamedTuple

from fieldapp.assets import folder as assets
from fieldapp.book.file import RULES
from fieldapp.husbandry.library import library_version
from fieldapp.wire.versions import Versions
from syncserver.clock import Clock
from syncserver.folder import DataFolder
from syncserver.journals import Journals
from syncserver.pairing.certificate import now_utc, own_certificate
from syncserver.pairing.desk import Desk
from syncserver.store import Operation, Store
from syncserver.store.sqlite import SqliteStore

FIRST_OPERATION = "Home"
MACHINE = Clock()


class Parts(NamedTuple):
    """A server's joined parts. `fingerprint` is the SHA-256 of its certificate, in hex."""

    folder: DataFolder
    store: Store
    desk: Desk
    journals: Journals
    fingerprint: str
    clock: Clock

    def close(self) -> None:
        """Let go of every file."""
        self.journals.close()
        self.store.close()


def bootstrap(path: Path, clock: Clock = MACHINE) -> Parts:
    """Open a data folder, or make a new one with a certificate and a first operation."""
    folder = DataFolder(path).make()
    fingerprint = own_certificate(folder, now_utc())
    store = SqliteStore(folder.store)
    if not store.operations():
        store.add_operation(new_operation(FIRST_OPERATION, clock))
    desk = Desk(store, clock.seconds, secrets.token_bytes)
    journals = Journals(folder, clock.ms, secrets.token_bytes)
    return Parts(folder, store, desk, journals, fingerprint, clock)


@cache
def versions() -> Versions:
    """Return by what this server computes."""
    return Versions(int(RULES), library_version(assets("treatments")))


def new_operation(name: str, clock: Clock) -> Operation:
    """Return an operation that begins now."""
    return Operation(secrets.token_hex(16), name, clock.seconds())
