"""How fast records go up to an empty server and down to an empty phone, beside the floor.

Run it: ``python tests/bench/bench_sync.py [records held …]``. All over TLS, every check of ours on;
the floor has none. Prints medians of several alternating runs, bytes on the wire, the time at
20 ms of round trip, and the memory of the server. With numbers behind it: what 20 new records
on each side cost where both hold so many (400000 takes some minutes to fill).
"""

from __future__ import annotations

import json
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
for folder in ("", "tests/syncserver", "tests/sync", "tests/faults"):
    sys.path.insert(0, str(HERE.parents[1] / folder))

from cut_proxy import Fault, between  # noqa: E402
from phone_process import PhoneProcess  # noqa: E402
from server_process import ServerProcess, running  # noqa: E402

from fieldapp.sync.pinned import pinned_session  # noqa: E402

RECORDS = 10_000
RUNS = 5
BATCH = 500


def floor(server: ServerProcess, folder: Path, raws: list[str]) -> tuple[float, float]:
    """Return the seconds to push and to pull `raws` over the bare handler."""
    folder.mkdir()
    files = (
        folder / "floor.sqlite",
        *(server.folder / f"{it}.pem" for it in ("certificate", "key")),
    )
    process = subprocess.Popen(
        [sys.executable, str(HERE / "floor_server.py"), *map(str, files)],
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        root = f"https://127.0.0.1:{process.stdout.readline().strip()}/"
        session = pinned_session(server.fingerprint)
        session.get(root, params={"after": 0}, timeout=20)
        begun = time.perf_counter()
        for at in range(0, len(raws), BATCH):
            session.post(root, data=json.dumps(raws[at : at + BATCH]), timeout=20)
        pushed = time.perf_counter()
        here = sqlite3.connect(folder / "phone.sqlite", isolation_level=None)
        here.execute("PRAGMA journal_mode=WAL")
        here.execute("PRAGMA synchronous=FULL")
        here.execute("CREATE TABLE record (n INTEGER PRIMARY KEY, raw TEXT NOT NULL)")
        after = 0
        while batch := session.get(root, params={"after": after}, timeout=20).json():
            here.execute("BEGIN IMMEDIATE")
            here.executemany("INSERT INTO record (raw) VALUES (?)", ((raw,) for raw in batch))
            here.execute("COMMIT")
            after += len(batch)
        return pushed - begun, time.perf_counter() - pushed
    finally:
        process.kill()


def fresh(server: ServerProcess, folder: Path, operation: str) -> PhoneProcess:
    """Return a paired phone with nothing on it."""
    process = PhoneProcess(folder)
    process.do("pair", code=server.new_code(operation), address=server.address)
    return process


def product(
    server: ServerProcess, folder: Path, address: str = ""
) -> tuple[dict[str, float], dict[str, float], list[str]]:
    """Return what a push to an empty operation and a pull to an empty phone took."""
    operation = server.new_operation()
    up, down = fresh(server, folder / "up", operation), fresh(server, folder / "down", operation)
    try:
        up.do("fill", count=RECORDS)
        for process in (up, down):
            if address:
                process.do("move", address=address)
        pushed, pulled = up.do("sync"), down.do("sync")
        if not (pushed["ok"] and pulled["ok"] and pulled["received"] == RECORDS):
            raise SystemExit(f"a sync failed: {pushed} {pulled}")
        return pushed, pulled, up.do("raws")
    finally:
        up.kill()
        down.kill()


def few_new(server: ServerProcess, folder: Path, held: int) -> str:
    """Return in words what 20 new records on each side cost where both hold `held`."""
    operation = server.new_operation()
    keeper, helper = (fresh(server, folder / name, operation) for name in ("keeper", "helper"))
    try:
        keeper.do("fill", count=held)
        keeper.do("sync")
        helper.do("sync")
        times = []
        for _ in range(RUNS):
            helper.do("log", count=20, hive=2)
            helper.do("sync")
            keeper.do("log", count=20)
            told = keeper.do("sync")
            times.append(told["seconds"])
        traffic = told["traffic"]
        return (
            f"{held:,} held, 20 new on each side: {statistics.median(times) * 1000:.0f} ms, "
            f"{traffic['requests']} requests, {traffic['sent'] + traffic['got']:,} bytes"
        )
    finally:
        keeper.kill()
        helper.kill()


def main() -> None:
    with tempfile.TemporaryDirectory() as room, running(Path(room) / "server") as server:
        ours: list[tuple[float, float]] = []
        theirs: list[tuple[float, float]] = []
        for run in range(RUNS):
            pushed, pulled, raws = product(server, Path(room) / f"ours{run}")
            ours.append((pushed["seconds"], pulled["seconds"]))
            theirs.append(floor(server, Path(room) / f"floor{run}", raws))
        size = sum(map(len, raws)) / len(raws)
        print(f"{RECORDS} records of {size:.0f} bytes, medians of {RUNS} runs, TLS on loopback")
        for way, name in ((0, "push"), (1, "pull")):
            mine, bare = (statistics.median(run[way] for run in runs) for runs in (ours, theirs))
            print(
                f"{name}: {RECORDS / mine:,.0f} records/s, floor {RECORDS / bare:,.0f}, "
                f"{bare / mine:.0%} of the floor"
            )
        for name, told in (("push", pushed), ("pull", pulled)):
            wire = (told["traffic"]["sent"] + told["traffic"]["got"]) / RECORDS
            print(f"{name}: {wire:.1f} bytes a record, {told['traffic']['requests']} requests")
        with between(server.port, lambda _: Fault(), latency=0.01) as proxy:
            pushed, pulled, _ = product(server, Path(room) / "far", proxy.address)
            print(f"at 20 ms: push {pushed['seconds']:.2f} s, pull {pulled['seconds']:.2f} s")
        for held in map(int, sys.argv[1:]):
            print(few_new(server, Path(room) / f"held{held}", held))
        print(f"memory of the server at most {server.memory_mb():.0f} MB")


if __name__ == "__main__":
    main()
