"""How fast the journal is: ``python tests/bench/bench_journal.py [records]``.

Prints medians in microseconds a record, and of a tap beside one raw commit of SQLite with
``synchronous=FULL`` on the same disk. Every check is on: validation, digest, chain.
"""

from __future__ import annotations

import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "journal"))
sys.path.insert(1, str(Path(__file__).parents[2]))

from journal_making import FINDER, START_MS, Device, application

from fieldapp.journal.batches import Batch, batches
from fieldapp.journal.holes import verify
from fieldapp.journal.merging import sync
from fieldapp.journal.reading import decode
from fieldapp.journal.receiving import receive

TAPS = 300


def seconds(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def raw_commit(folder: Path) -> Callable[[], object]:
    connection = sqlite3.connect(folder / "raw.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE record (raw BLOB)")

    def commit() -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO record VALUES (?)", (b"x" * 400,))
        connection.execute("COMMIT")

    return commit


def bare_insert(folder: Path, sent: list[Batch]) -> None:
    connection = sqlite3.connect(folder / "bare.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE record (id INTEGER PRIMARY KEY, raw BLOB)")
    for batch in sent:
        connection.execute("BEGIN IMMEDIATE")
        rows = [(raw,) for raw in batch.records]
        connection.executemany("INSERT INTO record (raw) VALUES (?)", rows)
        connection.execute("COMMIT")


def main(count: int, folder: Path) -> None:
    phone, server = Device(folder / "phone.db", 1), Device(folder / "server.db", 2, server=True)
    drafts = [application(instant_s=START_MS // 1000 + 60 * n) for n in range(1000)]
    written = seconds(lambda: [phone.journal.write(drafts) for _ in range(count // 1000)])
    (head,) = phone.journal.vector()
    sent: list[Batch] = []
    read = seconds(lambda: sent.extend(batches(phone.journal, head, 0)))
    raws = [raw for batch in sent for raw in batch.records]
    print(f"{len(raws)} records of {sum(map(len, raws)) / len(raws):.0f} bytes")

    def show(what: str, took: float) -> None:
        print(f"{what:44}{took / len(raws) * 1e6:9.1f} us a record")

    show("write, 1000 in a transaction", written)
    show("read and check for sending", read)
    show("decode and validate", seconds(lambda: [decode(raw) for raw in raws]))
    show("receive, every check", seconds(lambda: [receive(server.journal, [b]) for b in sent]))
    show("bare INSERT in the same transactions", seconds(lambda: bare_insert(folder, sent)))
    show("arrivals, decoded", seconds(lambda: sum(1 for _ in phone.journal.arrivals())))
    show("compute every digest (at start)", seconds(lambda: verify(phone.journal)))
    for name, journal in (("phone", phone), ("server", server)):
        size = (folder / f"{name}.db").stat().st_size / len(raws)
        print(f"{name + ' file':44}{size:9.0f} bytes a record, {journal.journal.count()} count")

    raw, tap = raw_commit(folder), drafts[:1]
    pairs = [(seconds(raw), seconds(lambda: phone.journal.write(tap))) for _ in range(TAPS)]
    commit, write = (statistics.median(times) * 1e6 for times in zip(*pairs, strict=True))
    print(f"{'one tap':44}{write:9.0f} us; one raw commit {commit:.0f} us: {write / commit:.2f}x")

    phone.journal.write(drafts[:20])
    took = seconds(lambda: sync(phone.journal, server.host, FINDER)) * 1e3
    print(f"{f'sync of {TAPS + 20} new ones, in one process':44}{took:9.1f} ms")
    took = seconds(lambda: sync(phone.journal, server.host, FINDER)) * 1e3
    print(f"{'sync with nothing to do':44}{took:9.1f} ms")
    for device in (phone, server):
        device.journal.close()


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as temporary:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000, Path(temporary))
