"""A real phone side in a process of its own, with its own files, driven line by line.

As a script it reads one JSON command a line and answers with one JSON line; as a module it
gives tests `PhoneProcess`, which starts that script.
"""

from __future__ import annotations

import json
import os
import secrets
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random
from typing import Any
from uuid import UUID

KEEPER = "01890000-0000-7000-8000-000000000001"
APIARY = "01890000-0000-7000-8000-00000000000a"


class PhoneProcess:
    """One phone. Every method is one command, answered by the process."""

    def __init__(self, folder: Path) -> None:
        self._process = subprocess.Popen(
            [sys.executable, __file__, str(folder)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
        )

    @property
    def pid(self) -> int:
        return self._process.pid

    def do(self, command: str, **arguments: Any) -> Any:
        """Return the answer to a command."""
        self.begin(command, **arguments)
        return self.answer()

    def begin(self, command: str, **arguments: Any) -> None:
        """Give a command without waiting for its answer."""
        self._process.stdin.write(json.dumps([command, arguments]) + "\n")
        self._process.stdin.flush()

    def answer(self) -> Any:
        """Wait for the answer to the last command."""
        line = self._process.stdout.readline()
        if not line:
            raise AssertionError("the phone process ended")
        return json.loads(line)

    def kill(self) -> None:
        self._process.kill()
        self._process.wait()


@contextmanager
def phone(folder: Path) -> Iterator[PhoneProcess]:
    """Hold a phone's process; it is killed when the block is left."""
    process = PhoneProcess(folder)
    try:
        yield process
    finally:
        process.kill()


class Phone:
    """What runs inside the process: a journal, and the app's own `Sync` on it."""

    def __init__(self, folder: Path) -> None:
        from fieldapp.journal.files import FOLDER, Files  # noqa: PLC0415 - only in the child
        from fieldapp.journal.store import Journal  # noqa: PLC0415
        from fieldapp.sync import Sync  # noqa: PLC0415

        self._journal = Journal.open(
            folder / "journal.sqlite",
            now_ms=lambda: time.time_ns() // 1_000_000,
            entropy=secrets.token_bytes,
        )
        self._sync = Sync(folder, self._journal, folder.name)
        self._files = Files(folder / FOLDER)

    def pair(self, code: str, address: str = "") -> Any:
        from fieldapp.sync import SyncError  # noqa: PLC0415

        try:
            return {"ok": True, "meeting": self._sync.pair(code, address)._asdict()}
        except SyncError as wrong:
            return {"ok": False, "error": type(wrong).__name__, "words": str(wrong)}

    def listen(self, interface: str) -> Any:
        """From now on hear what servers announce on one interface."""
        from fieldapp.device.finding import ZeroconfFinding  # noqa: PLC0415

        self._sync._finding = ZeroconfFinding([interface])
        return True

    def where(self) -> Any:
        """Return where the paired server is known to be."""
        return self._sync.pairing.address

    def move(self, address: str) -> Any:
        """Say that the paired server is now at another address (a proxy's)."""
        self._sync.moved(address)
        return True

    def one_request_a_connection(self) -> Any:
        """From now on each request has a connection of its own, so that it can be cut alone."""
        from fieldapp.sync import client  # noqa: PLC0415

        kept_alive = client.pinned_session

        def closed_each_time(fingerprint: str) -> Any:
            session = kept_alive(fingerprint)
            session.headers["Connection"] = "close"
            return session

        client.pinned_session = closed_each_time
        return True

    def plain(self) -> Any:
        """From now on speak without TLS, to a server that does so for a measurement."""
        import requests  # noqa: PLC0415
        from requests.adapters import HTTPAdapter  # noqa: PLC0415

        from fieldapp.sync import client  # noqa: PLC0415

        class Plain(HTTPAdapter):
            def send(self, request: Any, *args: Any, **how: Any) -> Any:
                request.url = request.url.replace("https://", "http://", 1)
                return super().send(request, *args, **how)

        def without_tls(fingerprint: str) -> requests.Session:
            session = requests.Session()
            session.trust_env = False
            session.mount("https://", Plain())
            return session

        client.pinned_session = without_tls
        return True

    def join(self) -> Any:
        self._sync.join()
        return True

    def log(self, count: int, hive: int = 1) -> Any:
        """Write records one by one, as taps are, and return their ids."""
        from fieldapp.journal.record import Draft  # noqa: PLC0415

        ids = []
        for number in range(count):
            draft = Draft(
                "hive",
                "2026-08-01T10:00:00+01:00[Europe/London]",
                KEEPER,
                {"number": str(number % 90 + 1), "stand": number % 90 + 1},
                apiary=APIARY,
                hive=f"01890000-0000-7000-8000-0000000{hive * 100 + number % 90:05x}",
            )
            ids += [record.id for record in self._journal.write([draft])]
        return ids

    def take(self, size: int, seed: int) -> Any:
        """Keep a photo of random bytes beside a record; return the photo's id and SHA-256."""
        from fieldapp.journal.record import Draft  # noqa: PLC0415

        digest = self._files.put(Random(seed).randbytes(size))
        [root] = self.log(1)
        body = {"sha256": digest, "type": "image/jpeg", "size": size}
        when = "2026-08-01T10:00:00+01:00[Europe/London]"
        [photo] = self._journal.write([Draft("photo", when, KEEPER, body, adds_to=root)])
        return [[root, photo.id], digest]

    def photos(self) -> Any:
        """Return the SHA-256 of each photo that is here, its bytes compared with it."""
        digests = list(self._files.digests())
        for digest in digests:
            self._files.read(digest)
        return digests

    def write(self, drafts: list[dict[str, Any]]) -> Any:
        """Write drafts, given by their fields, in one transaction; return their ids."""
        from fieldapp.journal.record import Draft  # noqa: PLC0415

        return [r.id for r in self._journal.write([Draft(**draft) for draft in drafts])]

    def asked(self) -> Any:
        """Return what the keeper is asked, in words."""
        from fieldapp.book.book import Book  # noqa: PLC0415

        return [_speech()(each.phrase) for each in Book.open(self._journal).questions()]

    def agenda(self, day: str) -> Any:
        """Return the agenda of a day as it is spoken: what, where, when."""
        from datetime import date  # noqa: PLC0415

        from fieldapp.book.book import Book  # noqa: PLC0415
        from fieldapp.husbandry import spoken  # noqa: PLC0415

        when = date.fromisoformat(day)
        book = Book.open(self._journal)
        names = {apiary.id: apiary.name for apiary in book.apiaries(when)}
        lines = spoken.in_sight(book.agenda(when), when)
        said = [spoken.spoken(line, names, when) for line in lines]
        return [[_speech()(part) for part in (it.what, it.where, it.when)] for it in said]

    def fill(self, count: int) -> Any:
        """Write many records of about 400 bytes in a few transactions."""
        from fieldapp.journal.record import Draft  # noqa: PLC0415

        chance = Random(count)
        hives = [str(UUID(int=chance.getrandbits(128))) for _ in range(1000)]
        for begin in range(0, count, 1000):
            self._journal.write(
                [
                    Draft(
                        "look",
                        f"2026-08-{number % 28 + 1:02}T{chance.randrange(8, 20):02}:"
                        f"{chance.randrange(60):02}:{chance.randrange(60):02}+01:00[Europe/London]",
                        KEEPER,
                        {
                            "brood": chance.choice(["none", "hardly any", "yes"]),
                            "seams": chance.randrange(48) / 4,
                            "stores": chance.choice(["short", "enough", "plenty"]),
                        },
                        apiary=APIARY,
                        hive=chance.choice(hives),
                    )
                    for number in range(begin, min(begin + 1000, count))
                ]
            )
        return self._journal.count()

    def sync(self) -> Any:
        begun = time.perf_counter()
        outcome = self._sync.run(lambda _: None)
        speech = _speech()
        return {
            "ok": outcome.ok,
            "words": speech(outcome.phrase),
            "advice": speech(outcome.advice) if outcome.advice else "",
            "sent": outcome.sent,
            "received": outcome.received,
            "records": outcome.records,
            "refused": [speech(one) for one in outcome.refused],
            "remarks": [speech(one) for one in outcome.remarks],
            "seconds": time.perf_counter() - begun,
            "traffic": self._sync.traffic._asdict(),
        }

    def vector(self) -> Any:
        return self._journal.vector().hash().hex()

    def raws(self) -> Any:
        """Return the exact bytes of every record, as text."""
        from fieldapp.journal.batches import batches  # noqa: PLC0415

        return [
            raw.decode()
            for head in self._journal.vector()
            for batch in batches(self._journal, head, 0)
            for raw in batch.records
        ]

    def ids(self) -> Any:
        return sorted(record.id for _, record in self._journal.arrivals())


def _speech() -> Any:
    from fieldapp.words.speech import Speech  # noqa: PLC0415

    return Speech()


def main() -> None:
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    running = Phone(folder)
    for line in sys.stdin:
        command, arguments = json.loads(line)
        print(json.dumps(getattr(running, command)(**arguments)), flush=True)


if __name__ == "__main__":
    main()
