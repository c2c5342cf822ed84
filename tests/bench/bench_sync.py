"""How fast records go up to an empty server and down to an empty phone, beside others.

Run it: ``python tests/bench/bench_sync.py``. In one run it measures, over loopback, this product
(TLS and plain, every check on), the floor (a bare handler with SQLite and no check, TLS and
plain), PouchDB against express-pouchdb, and Kinto; then bytes on the wire, 20 ms of round trip,
20 new records among many, the derived state, and the server's memory. Ends with the bars and
whether they hold; the status is 1 where one does not. ``--held 1000,400000`` names how many both
sides hold before the 20 new ones come; ``--without-others`` installs and runs nobody else's.
"""

from __future__ import annotations

import argparse
import json
import secrets
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).resolve().parent
for folder in ("", "tests/syncserver", "tests/sync", "tests/faults", "tests/bench"):
    sys.path.insert(0, str(HERE.parents[1] / folder))

import bench_others  # noqa: E402
import requests  # noqa: E402
from cut_proxy import Fault, between  # noqa: E402
from phone_process import PhoneProcess  # noqa: E402
from server_process import ServerProcess, running  # noqa: E402

from fieldapp.book.book import Book  # noqa: E402
from fieldapp.journal.store import Journal  # noqa: E402
from fieldapp.sync import Pairing  # noqa: E402
from fieldapp.sync.keeping import PairingFile  # noqa: E402
from fieldapp.sync.pinned import pinned_session  # noqa: E402
from syncserver.pairing.desk import Desk  # noqa: E402

RECORDS = 10_000
RUNS = 9
FLOOR_BATCHES = (500, 1000)
WAYS = ("push", "pull")
#: What must hold, as the project set it for itself.
FLOOR_SHARE, WIRE_BYTES, FAR_SECONDS, MEMORY_MB = 0.40, 130.0, 1.0, 150.0
NEW_REQUESTS, NEW_BYTES, NEW_SECONDS = 5, 20_000, 0.150

Both = tuple[float, float]


class Bar(NamedTuple):
    """One bar: what it says, what was measured in words, and whether it holds."""

    what: str
    measured: str
    holds: bool


class Site(NamedTuple):
    """A server that phones can be paired with, by its store; `plain` where it has no TLS."""

    server: ServerProcess
    address: str
    plain: bool

    def phone(self, folder: Path, operation: str) -> PhoneProcess:
        """Return a paired phone with nothing on it."""
        folder.mkdir(parents=True)
        with self.server.store() as store:
            known = next(one.id for one in store.operations() if one.name == operation)
            desk = Desk(store, lambda: int(time.time()), secrets.token_bytes)
            token = desk.pair(desk.new_code(known, "device"), folder.name).token
        pairing = Pairing(self.address, self.server.fingerprint, token, "", "", operation, True)
        PairingFile(folder).write(pairing)
        process = PhoneProcess(folder)
        if self.plain:
            process.do("plain")
        # Loads what a first sync loads, and opens the server's journal: not measured here.
        process.do("sync")
        return process


@contextmanager
def plain_site(folder: Path) -> Iterator[Site]:
    """Hold a server without TLS on a data folder that one with TLS has made."""
    with running(folder) as server:
        server.stop()
    process = subprocess.Popen(
        [sys.executable, str(HERE / "plain_server.py"), str(folder)],
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        yield Site(server, f"127.0.0.1:{process.stdout.readline().strip()}", True)
    finally:
        process.kill()


class Moved(NamedTuple):
    """What a push and a pull told, the records, and where the phone that pulled has its files."""

    told: tuple[dict, dict]
    raws: list[str]
    folder: Path

    @property
    def seconds(self) -> Both:
        return self.told[0]["seconds"], self.told[1]["seconds"]


def product(site: Site, folder: Path) -> Moved:
    """Push `RECORDS` to an empty operation and pull them to an empty phone."""
    operation = site.server.new_operation()
    up, down = (site.phone(folder / name, operation) for name in ("up", "down"))
    try:
        up.do("fill", count=RECORDS)
        told = up.do("sync"), down.do("sync")
        if not (told[0]["ok"] and told[1]["ok"] and told[1]["received"] == RECORDS):
            raise SystemExit(f"a sync failed: {told}")
        return Moved(told, up.do("raws"), folder / "down")
    finally:
        up.kill()
        down.kill()


def connected(site: Site) -> requests.Session:
    """Return a fresh session over the site's transport."""
    return requests.Session() if site.plain else pinned_session(site.server.fingerprint)


def floor(site: Site, folder: Path, raws: list[str], batch: int) -> Both:
    """Return the seconds to push and to pull `raws` over the bare handler."""
    folder.mkdir()
    files = (
        [] if site.plain else [site.server.folder / f"{it}.pem" for it in ("certificate", "key")]
    )
    process = subprocess.Popen(
        [
            sys.executable,
            str(HERE / "floor_server.py"),
            *map(str, (folder / "floor.sqlite", batch, *files)),
        ],
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        scheme = "http" if site.plain else "https"
        root = f"{scheme}://127.0.0.1:{process.stdout.readline().strip()}/"
        connected(site).get(root, params={"after": 0}, timeout=20)
        # Each way begins with connecting, as a sync of the product does.
        begun = time.perf_counter()
        session = connected(site)
        for at in range(0, len(raws), batch):
            session.post(root, data=json.dumps(raws[at : at + batch]), timeout=20)
        pushed = time.perf_counter()
        session = connected(site)
        here = sqlite3.connect(folder / "phone.sqlite", isolation_level=None)
        here.execute("PRAGMA journal_mode=WAL")
        here.execute("PRAGMA synchronous=FULL")
        here.execute("CREATE TABLE record (n INTEGER PRIMARY KEY, raw TEXT NOT NULL)")
        after = 0
        while rows := session.get(root, params={"after": after}, timeout=20).json():
            here.execute("BEGIN IMMEDIATE")
            here.executemany("INSERT INTO record (raw) VALUES (?)", ((raw,) for raw in rows))
            here.execute("COMMIT")
            after += len(rows)
        return pushed - begun, time.perf_counter() - pushed
    finally:
        process.kill()


def best(runs: list[Both]) -> Both:
    """Return the least of each way: what is slower tells of the machine's other work."""
    return min(run[0] for run in runs), min(run[1] for run in runs)


def middle(runs: list[Both]) -> Both:
    """Return the median of each way: what is to be had on this machine as busy as it is."""
    return statistics.median(run[0] for run in runs), statistics.median(run[1] for run in runs)


def show(name: str, seconds: Both, ours: Both) -> None:
    """Print rates each way, and how many times as fast the product is."""
    parts = (
        f"{way} {RECORDS / took:9,.0f}/s ({took / mine:5.2f} x our time)"
        for way, took, mine in zip(WAYS, seconds, ours, strict=True)
    )
    print(f"  {name:34}{'   '.join(parts)}", flush=True)


def beside_the_floor(site: Site, room: Path) -> tuple[Moved, Both, list[Bar]]:
    """Measure product and floor in turn over one transport."""
    name = "plain" if site.plain else "TLS"
    ours: list[Both] = []
    floors: dict[int, list[Both]] = {batch: [] for batch in FLOOR_BATCHES}
    for run in range(RUNS):
        moved = product(site, room / f"{name}{run}")
        ours.append(moved.seconds)
        for batch in FLOOR_BATCHES:
            target = room / f"{name}-floor{batch}-{run}"
            floors[batch].append(floor(site, target, moved.raws, batch))
    mine, usual = best(ours), middle(ours)
    show(f"this product, {name}", mine, mine)
    show("  median", usual, mine)
    bars = []
    for batch in FLOOR_BATCHES:
        bare, bare_usual = best(floors[batch]), middle(floors[batch])
        show(f"floor, {name}, {batch} a request", bare, mine)
        show("  median", bare_usual, mine)
        for number, way in enumerate(WAYS):
            what = f"{way}, {name}: at least {FLOOR_SHARE:.0%} of the floor, {batch} a request"
            share = bare[number] / mine[number]
            medians = bare_usual[number] / usual[number]
            measured = f"{share:.0%} (of medians {medians:.0%})"
            bars.append(Bar(what, measured, share >= FLOOR_SHARE))
    return moved, mine, bars


def beside_others(room: Path, raws: list[str], ours: Both) -> None:
    """Measure the others over plain HTTP, the same records."""
    bench_others.install()
    with bench_others.pouchdb(room / "pouch-server") as address:
        for batch in (100, 1000):
            took = bench_others.replicated(address, room / f"pouch{batch}", raws, batch)
            show(f"PouchDB, {batch} a batch", took, ours)
    with bench_others.kinto() as root:
        runs = [bench_others.stored(root, room / f"kinto{run}", raws) for run in range(2)]
        show("Kinto, in memory, 500 a batch", best(runs), ours)


def wire_and_distance(site: Site, moved: Moved, room: Path) -> list[Bar]:
    bars = []
    for way, told in zip(WAYS, moved.told, strict=True):
        wire = (told["traffic"]["sent"] + told["traffic"]["got"]) / RECORDS
        measured = f"{wire:.1f} in {told['traffic']['requests']} requests"
        what = f"{way}: at most {WIRE_BYTES:.0f} bytes a record"
        bars.append(Bar(what, measured, wire <= WIRE_BYTES))
    with between(site.server.port, lambda _: Fault(), latency=0.01) as proxy:
        far = [product(site._replace(address=proxy.address), room / f"far{n}") for n in range(3)]
    for way, took in zip(WAYS, best([one.seconds for one in far]), strict=True):
        what = f"{way} at 20 ms of round trip: under {FAR_SECONDS:.0f} s"
        bars.append(Bar(what, f"{took:.2f} s", took < FAR_SECONDS))
    return bars


def few_new(site: Site, folder: Path, held: int) -> list[Bar]:
    """Measure what 20 new records on each side cost where both hold `held`."""
    operation = site.server.new_operation()
    keeper, helper = (site.phone(folder / name, operation) for name in ("keeper", "helper"))
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
        idle = keeper.do("sync")
    finally:
        keeper.kill()
        helper.kill()
    traffic, took = told["traffic"], min(times)
    size = traffic["sent"] + traffic["got"]
    few = traffic["requests"] < NEW_REQUESTS and size < NEW_BYTES and took < NEW_SECONDS
    return [
        Bar(
            f"20 new, {held:,} held: under 5 requests, 20 kB, 150 ms",
            f"{traffic['requests']} requests, {size:,} bytes, {took * 1000:.0f} ms",
            few,
        ),
        Bar(
            f"nothing new, {held:,} held: one request",
            f"{idle['traffic']['requests']}, {idle['seconds'] * 1000:.0f} ms",
            idle["traffic"]["requests"] == 1,
        ),
    ]


def derived(folder: Path) -> float:
    """Return the seconds to make the book's state of all that was pulled."""
    with Journal.open(
        folder / "journal.sqlite", now_ms=lambda: 0, entropy=secrets.token_bytes
    ) as journal:
        begun = time.perf_counter()
        book = Book.open(journal)
        book.refresh()
        took = time.perf_counter() - begun
        book.close()
        return took


def main() -> int:
    asked = argparse.ArgumentParser(description="How fast syncing is, beside others.")
    asked.add_argument("--held", default="1000,10000,100000,400000,1000000")
    asked.add_argument("--without-others", action="store_true")
    options = asked.parse_args()
    bars: list[Bar] = []
    with tempfile.TemporaryDirectory() as temporary:
        room = Path(temporary)
        with running(room / "server") as server:
            site = Site(server, server.address, False)
            first = product(site, room / "first")
            size = sum(map(len, first.raws)) / len(first.raws)
            print(
                f"{RECORDS} records of {size:.0f} bytes on loopback, "
                f"the best and the median of {RUNS} runs"
            )
            moved, _, held = beside_the_floor(site, room)
            bars += held
            with plain_site(room / "plain-server") as plain:
                _, ours, held = beside_the_floor(plain, room)
                bars += held
            if not options.without_others:
                beside_others(room, moved.raws, ours)
            bars += wire_and_distance(site, moved, room)
            took = derived(moved.folder)
            print(f"  derived state of these, from nothing, not inside the above: {took:.2f} s")
            for count in map(int, filter(None, options.held.split(","))):
                bars += few_new(site, room / f"held{count}", count)
            memory = server.memory_mb()
            what = f"memory of the server throughout: under {MEMORY_MB:.0f} MB"
            bars.append(Bar(what, f"{memory:.0f} MB", memory < MEMORY_MB))
    for bar in bars:
        print(f"{'holds' if bar.holds else 'SHORT'}  {bar.what}: {bar.measured}")
    return 0 if all(bar.holds for bar in bars) else 1


if __name__ == "__main__":
    sys.exit(main())
