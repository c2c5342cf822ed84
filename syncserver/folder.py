"""Where the server keeps its files, and that nobody else may read them."""

from __future__ import annotations

import os
from pathlib import Path

from syncserver.errors import ServerError


class DataFolder:
    """The server's data folder.

    ``server.sqlite`` holds operations, devices and codes; ``journals/`` one journal an
    operation; ``files/`` the files that its records name; ``books/`` what is derived from them;
    ``certificate.pem`` and ``key.pem`` the server's own certificate.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.store = path / "server.sqlite"
        self.certificate = path / "certificate.pem"
        self.key = path / "key.pem"
        self._journals = path / "journals"
        self._books = path / "books"
        self._files = path / "files"

    def make(self) -> DataFolder:
        """Create what is missing, for this user alone; raise `ServerError` where that fails."""
        try:
            for folder in (self.path, self._journals, self._books, self._files):
                folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError as wrong:
            raise ServerError(
                f"The data folder {self.path} cannot be made: {wrong.strerror}.",
                "Name one that you may write to with --data.",
            ) from wrong
        if not os.access(self.path, os.W_OK | os.X_OK):
            raise ServerError(
                f"The data folder {self.path} cannot be written to.",
                "Name another one with --data, or give this user the right to write there.",
            )
        return self

    def journal(self, operation: str) -> Path:
        """Return the file of an operation's journal."""
        return self._journals / f"{operation}.sqlite"

    def files(self, operation: str) -> Path:
        """Return the folder of the files that an operation's records name."""
        return self._files / operation

    def book(self, operation: str) -> Path:
        """Return the file in which an operation's derived state is kept."""
        return self._books / f"{operation}.sqlite"


def default_folder(environ: dict[str, str] | os._Environ[str] = os.environ) -> Path:
    """Return the folder used without ``--data``, after the XDG base directory rules."""
    base = environ.get("XDG_DATA_HOME", "")
    root = Path(base) if base.startswith("/") else Path.home() / ".local" / "share"
    return root / "apiary-rounds-server"
