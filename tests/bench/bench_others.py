"""How fast others move the same records: PouchDB against express-pouchdb, and Kinto.

Both are installed by `install` into ignored folders beside this file, as published, and run over
plain HTTP on loopback. Kinto keeps everything in memory here, which favours it; the records that
it gives out are put into SQLite as the phone's are.
"""

from __future__ import annotations

import json
import socket
import sqlite3
import subprocess
import time
import venv
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import requests

OTHERS = Path(__file__).resolve().parent / "others"
KINTO = OTHERS / ".venv-kinto"
_START_SECONDS = 30
_KINTO_BATCH = 500


def install() -> None:
    """Install what is missing: packages of npm and of PyPI, in folders of their own."""
    if not (OTHERS / "node_modules" / "pouchdb").exists():
        subprocess.run(["npm", "ci", "--no-audit", "--no-fund"], cwd=OTHERS, check=True)
    if not (KINTO / "bin" / "pserve").exists():
        venv.create(KINTO, with_pip=True)
        pip = [str(KINTO / "bin" / "pip"), "install", "--quiet"]
        subprocess.run([*pip, "-r", str(OTHERS / "kinto.txt")], check=True)


@contextmanager
def pouchdb(folder: Path) -> Iterator[str]:
    """Hold an express-pouchdb server over LevelDB; yield its address."""
    folder.mkdir()
    server = subprocess.Popen(
        ["node", "pouch_server.js", str(folder)], cwd=OTHERS, stdout=subprocess.PIPE, text=True
    )
    try:
        yield f"http://127.0.0.1:{server.stdout.readline().strip()}/"
    finally:
        server.kill()


def replicated(address: str, folder: Path, raws: list[str], batch: int) -> tuple[float, float]:
    """Return the seconds that PouchDB took to push and to pull `raws`, `batch` at a time."""
    folder.mkdir()
    done = subprocess.run(
        ["node", "pouch_client.js", str(folder), address, str(batch)],
        cwd=OTHERS,
        input="\n".join(raws),
        capture_output=True,
        text=True,
        check=True,
    )
    told = json.loads(done.stdout)
    return told["push"], told["pull"]


@contextmanager
def kinto() -> Iterator[str]:
    """Hold a Kinto server; yield the address of its version 1."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    command = [str(KINTO / "bin" / "pserve"), str(OTHERS / "kinto.ini"), f"http_port={port}"]
    server = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    root = f"http://127.0.0.1:{port}/v1"
    try:
        _until(lambda: requests.get(f"{root}/", timeout=5).ok)
        yield root
    finally:
        server.kill()


def stored(root: str, folder: Path, raws: list[str]) -> tuple[float, float]:
    """Return the seconds that Kinto took to take `raws` in, batch by batch, and to give them."""
    folder.mkdir()
    session = requests.Session()
    collection = "/buckets/bench/collections/records"
    for path in ("/buckets/bench", collection):
        session.delete(root + path, timeout=60)
        session.put(root + path, json={"data": {}}, timeout=60).raise_for_status()
    begun = time.perf_counter()
    for at in range(0, len(raws), _KINTO_BATCH):
        puts = [
            {"path": f"{collection}/records/{data['id']}", "body": {"data": data}}
            for data in map(json.loads, raws[at : at + _KINTO_BATCH])
        ]
        batch = {"defaults": {"method": "PUT"}, "requests": puts}
        answer = session.post(f"{root}/batch", json=batch, timeout=60)
        answer.raise_for_status()
        if any(one["status"] != 201 for one in answer.json()["responses"]):
            raise SystemExit("a record was not taken")
    pushed = time.perf_counter()
    here = sqlite3.connect(folder / "phone.sqlite", isolation_level=None)
    here.execute("PRAGMA journal_mode=WAL")
    here.execute("PRAGMA synchronous=FULL")
    here.execute("CREATE TABLE record (n INTEGER PRIMARY KEY, raw TEXT NOT NULL)")
    page: str | None = f"{root}{collection}/records?_limit=1000"
    while page:
        answer = session.get(page, timeout=60)
        answer.raise_for_status()
        here.execute("BEGIN IMMEDIATE")
        rows = [(json.dumps(one),) for one in answer.json()["data"]]
        here.executemany("INSERT INTO record (raw) VALUES (?)", rows)
        here.execute("COMMIT")
        page = answer.headers.get("Next-Page")
    pulled = time.perf_counter()
    if here.execute("SELECT count(*) FROM record").fetchone()[0] != len(raws):
        raise SystemExit("not all records came")
    return pushed - begun, pulled - pushed


def _until(there: Callable[[], bool]) -> None:
    ends = time.monotonic() + _START_SECONDS
    while time.monotonic() < ends:
        try:
            if there():
                return
        except requests.ConnectionError:
            time.sleep(0.1)
    raise SystemExit("a server did not start")
