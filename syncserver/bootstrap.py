"""Joins the real parts of the server: the only place where clock and chance come from."""

from __future__ import annotations

import secrets
import time
from datetime import date
from functools import cache
from pathlib import Path
from typing import NamedTuple

from fieldapp.assets import folder as assets
from fieldapp.book.file import RULES
from fieldapp.husbandry.library import library_version
from fieldapp.wire.versions import Versions
from syncserver.folder import DataFolder
from syncserver.journals import Journals
from syncserver.pairing.certificate import now_utc, own_certificate
from syncserver.pairing.desk import Desk
from syncserver.store import Operation, Store
from syncserver.store.sqlite import SqliteStore

FIRST_OPERATION = "Home"


class Parts(NamedTuple):
    """A server's joined parts. `fingerprint` is the SHA-256 of its certificate, in hex."""

    folder: DataFolder
    store: Store
    desk: Desk
    journals: Journals
    fingerprint: str

    def close(self) -> None:
        """Let go of every file."""
        self.journals.close()
        self.store.close()


def bootstrap(path: Path) -> Parts:
    """Open a data folder, or make a new one with a certificate and a first operation."""
    folder = DataFolder(path).make()
    fingerprint = own_certificate(folder, now_utc())
    store = SqliteStore(folder.store)
    if not store.operations():
        store.add_operation(new_operation(FIRST_OPERATION))
    desk = Desk(store, clock, secrets.token_bytes)
    return Parts(folder, store, desk, Journals(folder, clock_ms, secrets.token_bytes), fingerprint)


@cache
def versions() -> Versions:
    """Return by what this server computes."""
    return Versions(int(RULES), library_version(assets("treatments")))


def new_operation(name: str) -> Operation:
    """Return an operation that begins now."""
    return Operation(secrets.token_hex(16), name, clock())


def clock() -> int:
    """Return whole seconds since 1970, UTC."""
    return int(time.time())


def today() -> date:
    """Return the civil date at home, which the pages show."""
    return date.today()


def clock_ms() -> int:
    """Return whole milliseconds since 1970, UTC."""
    return time.time_ns() // 1_000_000
