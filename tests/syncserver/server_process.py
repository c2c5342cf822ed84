"""A real server in a process of its own, on loopback, with its own data folder."""

from __future__ import annotations

import hashlib
import io
import os
import re
import secrets
import ssl
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import NamedTuple

from fieldapp.wire import invitation
from syncserver.__main__ import main
from syncserver.pairing.desk import Desk, page_code
from syncserver.store import Operation
from syncserver.store.sqlite import SqliteStore
from syncserver.store.store import Purpose

_START_SECONDS = 20
_ROOT = str(Path(__file__).parents[2])
#: The checkout first, so that processes run what the tests import.
ENVIRONMENT = {**os.environ, "PYTHONPATH": _ROOT}
#: ``python -m syncserver`` on a machine without pandas, as a home server is: the tests' oracles
#: bring it here, and sqlite-utils imports it where it is, which would distort memory and start.
_MODULE = (
    "-c",
    "import runpy, sys; sys.modules['pandas'] = None; "
    "runpy.run_module('syncserver', run_name='__main__', alter_sys=True)",
    "--data",
)
_LOOPBACK = ("--host", "127.0.0.1", "--port")


class DidNotStart(AssertionError):
    """A server that ended before it was ready; its text is what its terminal showed."""


class ServerProcess:
    """One run of ``python -m syncserver``. `said` is what its terminal shows.

    It announces itself only where a test asks for that: others run at the same time.
    """

    def __init__(self, folder: Path, port: int = 0, announce: bool = False) -> None:
        self.folder = folder
        self.said = ""
        self._process = subprocess.Popen(
            [sys.executable, "-u", *_MODULE, str(folder), *_LOOPBACK, str(port)]
            + ([] if announce else ["--no-announce"]),
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env=ENVIRONMENT,
        )
        self._ready = threading.Event()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        if not self._ready.wait(_START_SECONDS) or not self.address:
            self.kill()
            raise DidNotStart(self.said)

    def _read(self) -> None:
        for line in self._process.stdout:
            self.said += line
            if line.startswith("Ready."):
                self._ready.set()
        self._ready.set()

    @property
    def pid(self) -> int:
        return self._process.pid

    @property
    def address(self) -> str:
        return self._find(r"Listening on https://(\S+)")

    @property
    def port(self) -> int:
        return int(self.address.rpartition(":")[2])

    @property
    def pairing_code(self) -> str:
        return self._find(r"Pairing code: (\S+)")

    @property
    def page_code(self) -> str:
        return self._find(r"Page code: (\S+)")

    @property
    def fingerprint(self) -> str:
        """The SHA-256 of the server's certificate, read from its data folder."""
        pem = (self.folder / "certificate.pem").read_text()
        return hashlib.sha256(ssl.PEM_cert_to_DER_cert(pem)).hexdigest()

    def new_code(self, operation: str = "Home", purpose: Purpose = "device") -> str:
        """Return a fresh code, put into the store beside the running server."""
        with self.store() as store:
            desk = Desk(store, lambda: int(time.time()), secrets.token_bytes)
            known = next(one.id for one in store.operations() if one.name == operation)
            secret = desk.new_code(known, purpose)
        if purpose == "page":
            return page_code(secret)
        return invitation.code(secret, self.fingerprint)

    def new_operation(self) -> str:
        """Begin an operation that no test has used, and return its name."""
        with self.store() as store:
            name = f"operation {len(store.operations())}"
            store.add_operation(Operation(secrets.token_hex(16), name, int(time.time())))
        return name

    @contextmanager
    def store(self) -> Iterator[SqliteStore]:
        """Hold the store's file, beside the running server."""
        store = SqliteStore(self.folder / "server.sqlite")
        try:
            yield store
        finally:
            store.close()

    def command(self, *arguments: str) -> str:
        """Run a command of the server on its data folder and return what it prints."""
        return run_command(self.folder, *arguments).stdout.strip()

    def kill(self) -> None:
        """End the process at once, as a power cut of the program would."""
        self._process.kill()
        self._process.wait()

    def stop(self) -> int:
        """End the process in order and return its status."""
        self._process.terminate()
        return self._process.wait(20)

    def memory_mb(self) -> float:
        """Return the most memory that the process has held, in MB."""
        status = Path(f"/proc/{self.pid}/status").read_text()
        return int(re.search(r"VmHWM:\s+(\d+) kB", status).group(1)) / 1024

    def _find(self, pattern: str) -> str:
        found = re.search(pattern, self.said)
        return found.group(1) if found else ""


class Told(NamedTuple):
    """What a command printed, and its status."""

    stdout: str
    stderr: str
    returncode: int


def run_command(folder: Path, *arguments: str) -> Told:
    """Run one command of the server to its end, in this process."""
    out, err = io.StringIO(), io.StringIO()
    status = 0
    with redirect_stdout(out), redirect_stderr(err):
        try:
            main(["--data", str(folder), *arguments])
        except SystemExit as ended:
            status = int(ended.code or 0)
    return Told(out.getvalue(), err.getvalue(), status)


@contextmanager
def running(folder: Path, port: int = 0, announce: bool = False) -> Iterator[ServerProcess]:
    """Hold a running server; it is killed when the block is left."""
    server = ServerProcess(folder, port, announce)
    try:
        yield server
    finally:
        server.kill()
