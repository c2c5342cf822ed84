"""Recorded syncs: what a phone and a server of one version said to each other, kept for ever.

``python tests/sync/recorded.py`` records one for the present protocol, if there is none yet; it
never writes over one. A recording holds both journals as they were before (as backups) and every
question and answer in order.
"""

from __future__ import annotations

import base64
import itertools
import json
import sys
import tempfile
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

for folder in ("", "tests/syncserver"):
    sys.path.insert(0, str(Path(__file__).resolve().parents[2] / folder))

from server_process import running  # noqa: E402

from fieldapp.journal import backup  # noqa: E402
from fieldapp.journal.record import Draft  # noqa: E402
from fieldapp.journal.store import Journal  # noqa: E402
from fieldapp.sync import Sync  # noqa: E402
from fieldapp.sync.client import Client  # noqa: E402
from fieldapp.wire import limits  # noqa: E402
from fieldapp.wire.packing import unpack  # noqa: E402

FIXTURES = Path(__file__).resolve().parents[1] / "fixtures"
APIARY = "01890000-0000-7000-8000-00000000000a"
KEEPER = "01890000-0000-7000-8000-000000000001"


class Said(NamedTuple):
    """One question and its answer, bodies as they went over the wire."""

    path: str
    question: bytes
    asked_as: str
    answer: bytes
    answered_as: str


def open_journal(path: Path, seed: int) -> Journal:
    """Return a journal whose clock and chance come from a seed."""
    chance, ticks = Random(seed), itertools.count(1_785_000_000_000, 1000)
    return Journal.open(path, now_ms=lambda: next(ticks), entropy=chance.randbytes)


def comparable(body: bytes, kind: str) -> Any:
    """Return a body without what differs from run to run: clocks, and how gzip packed it."""
    if kind == limits.BATCHES:
        body = unpack(body, limits.BATCH_BYTES)
        heading, feed, batches = body.partition(b"\n")
        if feed and heading.startswith(b"{"):
            return _timeless(json.loads(heading)), batches
        return body
    return _timeless(json.loads(body))


def as_then(now: Any, then: Any) -> Any:
    """Return `now` without the fields that the recorded side did not know: it passes them over."""
    if isinstance(now, dict) and isinstance(then, dict):
        return {name: as_then(now[name], then[name]) for name in now if name in then}
    if isinstance(now, tuple) and isinstance(then, tuple) and len(now) == len(then):
        return tuple(map(as_then, now, then))
    return now


def _timeless(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _timeless(inner) for name, inner in value.items() if name != "now"}
    return value


def read(folder: Path) -> list[Said]:
    """Return a recording's questions and answers."""
    return [
        Said(
            one["path"],
            base64.b64decode(one["question"]),
            one["asked_as"],
            base64.b64decode(one["answer"]),
            one["answered_as"],
        )
        for one in json.loads((folder / "conversation.json").read_text())
    ]


def record(folder: Path) -> None:
    """Record a sync in which each side has what the other lacks."""
    folder.mkdir()
    said: list[dict[str, str]] = []
    exchange = Client._exchange

    def recording(self: Client, method: str, path: str, most: int, **how: Any) -> Any:
        response, body = exchange(self, method, path, most, **how)
        question = response.request.body or b""
        said.append(
            {
                "path": path,
                "question": base64.b64encode(question).decode(),
                "asked_as": response.request.headers.get("Content-Type", ""),
                "answer": base64.b64encode(body).decode(),
                "answered_as": response.headers["Content-Type"],
            }
        )
        return response, body

    with tempfile.TemporaryDirectory() as room, running(Path(room) / "server") as server:
        for number, (name, kept_as) in enumerate((("helper", "server"), ("keeper", "phone"))):
            with open_journal(Path(room) / name / "journal", number) as journal:
                when = f"2026-08-0{number + 1}T10:00:00+01:00[Europe/London]"
                body = {"name": "Ferry Lane", "country": "GB"}
                journal.write([Draft("apiary", when, KEEPER, body, apiary=APIARY)] * 3)
                # What the helper's phone holds is what the server holds after its sync.
                backup.backup(journal, folder / f"{kept_as}.zip")
                sync = Sync(Path(room) / name, journal, name)
                sync.pair(server.new_code(), server.address)
                sync.join()
                if name == "keeper":
                    Client._exchange = recording
                if not sync.run(lambda _: None).ok:
                    raise SystemExit("the sync to be recorded failed")
    (folder / "conversation.json").write_text(json.dumps(said, indent=1) + "\n")


if __name__ == "__main__":
    target = FIXTURES / f"sync-{limits.PROTOCOL}"
    if target.exists():
        raise SystemExit(f"{target} is there already and stays as it is")
    record(target)
    print(f"recorded {target}")
