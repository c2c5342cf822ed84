"""The home server of the demo: a process of its own, on this machine only."""

from __future__ import annotations

import subprocess
import sys
import time
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

import fieldapp
from fieldapp.demo.play.errors import ServerDidNotStart

ROOT = Path(fieldapp.__file__).resolve().parent.parent
FIRST_OPERATION = "Home"
"""What a new server calls the operation it begins with."""

START_S = 60.0
PATIENCE_S = 10.0
_MARKS = {
    "Listening on https://": "address",
    "Pairing code: ": "pairing_code",
    "Page code: ": "page_code",
}


class HomeServer:
    """A running server. `address` is ``host:port``; the codes open once each."""

    def __init__(self, folder: Path, begin_at: datetime) -> None:
        """Start a server that keeps everything in `folder`, and wait until it is ready.

        Its clock shows `begin_at` when it starts.
        """
        self._folder = folder
        self._begin_at = begin_at
        self.address = ""
        self.pairing_code = ""
        self.page_code = ""
        self._log = folder.with_name(f"{folder.name}.log")
        with self._log.open("wb") as log:
            self._process = subprocess.Popen(  # noqa: S603  # this very program
                [*self._command(), "--host", "127.0.0.1", "--port", "0"],
                cwd=ROOT,
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        self._await_ready()

    def new_code(self, operation: str = FIRST_OPERATION) -> str:
        """Return a fresh pairing code for an operation."""
        return self._told("code", "--operation", operation)

    def begin(self, operation: str) -> None:
        """Begin another operation, which sees nothing of the first."""
        self._told("operations", operation)

    def stop(self) -> None:
        """Stop it as Ctrl-C would, and by force if it does not listen."""
        self._process.terminate()
        try:
            self._process.wait(PATIENCE_S)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.stop()

    def _told(self, *words: str) -> str:
        done = subprocess.run(  # noqa: S603  # this very program
            [*self._command(), *words], cwd=ROOT, capture_output=True, text=True, check=True
        )
        return done.stdout.strip()

    def _command(self) -> list[str]:
        moment = self._begin_at.strftime("%Y-%m-%dT%H:%M:%S%z")
        told = ["--data", str(self._folder), "--begin-at", moment]
        return [sys.executable, "-u", "-m", "syncserver", *told]

    def _await_ready(self) -> None:
        deadline = time.monotonic() + START_S
        while time.monotonic() < deadline and self._process.poll() is None:
            said = self._log.read_text("utf-8", errors="replace").splitlines()
            if any(line.startswith("Ready") for line in said):
                self._take(said)
                return
            time.sleep(0.05)
        self.stop()
        said = self._log.read_text("utf-8", errors="replace").splitlines()
        raise ServerDidNotStart("The server did not start. It said:\n" + "\n".join(said))

    def _take(self, said: list[str]) -> None:
        """Take address and codes from what the server said."""
        for line in said:
            for mark, name in _MARKS.items():
                if line.startswith(mark):
                    setattr(self, name, line.removeprefix(mark).strip())
