"""Real servers and the phone's real syncing in one process, joined without sockets.

Every request goes through the phone's own client, the server's own routes with token, limits
and packing, and both journals; only TCP and TLS are left out, so that hundreds of restarts
take seconds. `Way` is the wire: it can break before or after the server did what was asked,
or hand on half an answer.
"""

from __future__ import annotations

import io
import random
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Literal
from urllib.parse import urlsplit

import requests
from requests.adapters import BaseAdapter
from starlette.testclient import TestClient
from urllib3 import HTTPResponse

from fieldapp.book.book import Book
from fieldapp.journal.files import FOLDER, Files
from fieldapp.journal.store import Journal
from fieldapp.sync import Outcome, Pairing, Sync
from fieldapp.sync.keeping import PairingFile
from syncserver import archive
from syncserver.app import create_app
from syncserver.bootstrap import bootstrap
from syncserver.folder import DataFolder

Break = Literal["before", "after", "half"]
START_MS = 1_780_000_000_000


class Home:
    """One home server: a data folder, and the server on it, which can die and come back."""

    def __init__(self, folder: Path, name: str) -> None:
        self.folder = folder
        self.address = f"{name}:8463"
        #: Changes when a phone's token may no longer be known.
        self.life = 0
        self._begin()

    def _begin(self) -> None:
        self.parts = bootstrap(self.folder)
        self.client = TestClient(create_app(self.parts), "https://home", False)
        self.client.__enter__()

    @property
    def operation(self) -> str:
        return self.parts.store.operations()[0].id

    @property
    def journal(self) -> Journal:
        return self.parts.journals.of(self.operation).journal

    @property
    def files(self) -> Files:
        return Files(self.parts.folder.files(self.operation))

    def _end(self) -> None:
        self.client.__exit__(None, None, None)
        self.parts.close()

    def crash(self, target: Path) -> None:
        """Die with every file as it stands at this moment, log and all; start on those."""
        shutil.copytree(self.folder, target)
        self._end()
        self.folder = target
        self._begin()

    def save(self, target: Path) -> None:
        archive.write_archive(self.parts, target)

    def restore(self, saved: Path, target: Path) -> None:
        """Become what a backup holds; phones that were paired since are not known any more."""
        archive.read_archive(saved, DataFolder(target).make())
        self._end()
        self.folder = target
        self.life += 1
        self._begin()

    def close(self) -> None:
        self._end()


class Way(BaseAdapter):
    """Carries requests to the servers by their names; `breaks` tells what happens to the n-th."""

    def __init__(self, homes: dict[str, Home], breaks: Callable[[int], Break | None]) -> None:
        super().__init__()
        self._homes = homes
        self._breaks = breaks
        self.requests = 0

    def send(self, request: requests.PreparedRequest, **how: object) -> requests.Response:
        self.requests += 1
        broken = self._breaks(self.requests)
        parts = urlsplit(request.url)
        if broken == "before" or parts.netloc not in self._homes:
            raise requests.ConnectionError("cut")
        told = self._homes[parts.netloc].client.request(
            request.method,
            parts._replace(scheme="", netloc="").geturl(),
            content=request.body,
            headers=dict(request.headers),
        )
        if broken == "after":
            raise requests.ConnectionError("cut")
        content = told.content[: len(told.content) // 2] if broken == "half" else told.content
        answer = requests.Response()
        answer.status_code = told.status_code
        answer.headers.update(told.headers)
        answer.request = request
        answer.raw = HTTPResponse(
            io.BytesIO(content),
            told.headers,
            told.status_code,
            preload_content=False,
            enforce_content_length=True,
        )
        return answer

    def close(self) -> None:
        """Nothing is held."""


class Handset:
    """One phone: its folder, clock and chance, its journal, book and `Sync`."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.folder = folder
        self.ahead_ms = 0
        self._ticks = 0
        self._chance = random.Random(seed)
        self._known: tuple[str, int] | None = None
        self._open()

    def _now_ms(self) -> int:
        self._ticks += 1000
        return max(0, START_MS + self.ahead_ms + self._ticks)

    def _open(self) -> None:
        self.journal = Journal.open(
            self.folder / "journal.sqlite", now_ms=self._now_ms, entropy=self._chance.randbytes
        )
        self.book = Book.open(self.journal)
        self.sync = Sync(self.folder, self.journal, "phone", pause=lambda _: None)

    @property
    def files(self) -> Files:
        return Files(self.folder / FOLDER)

    def image(self, target: Path) -> Path:
        """Copy every file as it stands, as a copied or imaged phone has it."""
        shutil.copytree(self.folder, target)
        return target

    def become(self, folder: Path) -> None:
        """Go on from the files in `folder`: after a crash, or as an older self."""
        self.book.close()
        self.journal.connections.close()
        self.folder = folder
        self._known = None
        self._open()

    def meet(self, home: Home) -> Outcome:
        """Sync with a server, paired with it first where it is not."""
        if self._known != (home.address, home.life):
            desk = home.parts.desk
            token = desk.pair(desk.new_code(home.operation, "device"), "phone").token
            PairingFile(self.folder).write(
                Pairing(home.address, home.parts.fingerprint, token, "", "", "Home", joined=True)
            )
            self._known = (home.address, home.life)
        return self.sync.run(lambda _: None)

    def close(self) -> None:
        self.book.close()
        self.journal.close()
