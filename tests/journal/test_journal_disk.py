"""Disks and processes that fail under a journal: nothing confirmed is lost, errors are clear."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time

import pytest
from journal_making import FINDER, Device, note, texts

from fieldapp.journal.errors import Busy, Damaged, Full, ReadOnly
from fieldapp.journal.holes import verify
from fieldapp.journal.merging import sync
from fieldapp.journal.recovery import open_or_recover


@pytest.fixture
def phone(tmp_path):
    made = Device(tmp_path / "phone" / "journal.db", 1)
    yield made
    made.journal.close()


@pytest.fixture
def server(tmp_path):
    made = Device(tmp_path / "server" / "journal.db", 2, server=True)
    yield made
    made.journal.close()


def fill_up(device: Device) -> None:
    """Let the file grow no more, as on a disk that is full."""
    connection = device.journal.connections.here()
    (pages,) = connection.execute("PRAGMA page_count").fetchone()
    connection.execute(f"PRAGMA max_page_count = {pages}")


def test_a_full_disk_loses_nothing_and_says_so(phone) -> None:
    """Taps fail with what to do, all confirmed ones are there, and it goes on with room."""
    fill_up(phone)
    confirmed = 0
    with pytest.raises(Full, match="no room left"):
        for n in range(1000):
            phone.journal.write([note(f"{n}")])
            confirmed += 1
    assert phone.journal.count() == confirmed
    phone.journal.connections.here().execute("PRAGMA max_page_count = 100000")
    phone.journal.write([note("with room again")])
    phone.journal.close()
    phone.opened()
    assert phone.journal.count() == confirmed + 1
    assert verify(phone.journal) == []


@pytest.mark.parametrize("full", ["phone", "server"])
def test_a_sync_on_to_a_full_disk_goes_on_later(phone, server, full: str) -> None:
    """Whole batches or nothing; what was acknowledged stays; the rest comes next time."""
    source, target = (server, phone) if full == "phone" else (phone, server)
    source.journal.write([note(f"{n}") for n in range(2500)])
    fill_up(target)
    with pytest.raises(Full):
        sync(phone.journal, server.host, FINDER)
    assert verify(target.journal) == []
    target.journal.connections.here().execute("PRAGMA max_page_count = 100000")
    assert sync(phone.journal, server.host, FINDER).equal
    assert target.journal.count() == 2500


def test_a_read_only_file_says_so(phone) -> None:
    """What is there can be read; a tap fails with what to do."""
    phone.journal.write([note("before")])
    phone.journal.connections.here().execute("PRAGMA query_only = 1")
    with pytest.raises(ReadOnly, match="cannot be written"):
        phone.journal.write([note("after")])
    phone.journal.connections.here().execute("PRAGMA query_only = 0")
    assert texts(phone.journal) == ["before"]


def test_a_file_without_the_right_to_write_says_so(phone) -> None:
    """Opening it as a user who may not write there is one clear error."""
    phone.journal.write([note("before")])
    phone.journal.close()
    for path in (phone.path, phone.path.parent, *phone.path.parent.iterdir()):
        path.chmod(0o555 if path.is_dir() else 0o444)
    phone.path.parent.parent.chmod(0o755)
    code = (
        "import os, sys; sys.path[:0] = sys.argv[2:]\n"
        "from pathlib import Path\n"
        "from fieldapp.journal.store import Journal\n"
        "from fieldapp.journal.errors import ReadOnly\n"
        "os.getuid() == 0 and os.setuid(65534)\n"
        "try: Journal.open(Path(sys.argv[1]), now_ms=lambda: 1, entropy=bytes)\n"
        "except ReadOnly as error: sys.exit(0 if 'cannot be written' in str(error) else 4)\n"
        "sys.exit(3)\n"
    )
    for parent in phone.path.parents[:3]:
        parent.chmod(parent.stat().st_mode | 0o055)
    command = [sys.executable, "-c", code, str(phone.path), *sys.path]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    for path in (phone.path.parent, *phone.path.parent.iterdir()):
        path.chmod(0o755)
    assert done.returncode == 0, done.stderr
    phone.opened()
    assert texts(phone.journal) == ["before"]


def test_a_file_held_by_another_program_says_so(phone, monkeypatch) -> None:
    """After waiting, with what to do; the tap is not confirmed."""
    phone.journal.connections.here().execute("PRAGMA busy_timeout = 50")
    other = sqlite3.connect(phone.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(Busy, match="another program"):
        phone.journal.write([note()])
    other.execute("ROLLBACK")
    other.close()
    phone.journal.write([note()])
    assert phone.journal.count() == 1


def test_a_lost_write_ahead_log_is_noticed(phone, server, tmp_path) -> None:
    """The newest taps went with it: the keeper is told, a new writer begins, sync brings them."""
    phone.journal.write([note("old")])
    phone.journal.connections.here().execute("PRAGMA wal_checkpoint(TRUNCATE)")
    phone.journal.write([note("new")])
    assert sync(phone.journal, server.host, FINDER).equal
    lost = tmp_path / "lost" / "journal.db"
    lost.parent.mkdir()
    for name in ("journal.db", "journal.db.marker"):
        (lost.parent / name).write_bytes((phone.path.parent / name).read_bytes())
    after = Device(lost, 3)
    assert texts(after.journal) == ["old"]
    assert [remark.what for remark in after.journal.remarks()] == ["lost wal"]
    (record,) = after.journal.write([note("after")])
    assert record.seq == 1
    assert sync(after.journal, server.host, FINDER).equal
    assert texts(after.journal) == ["after", "new", "old"]
    after.journal.close()


def test_a_log_cut_anywhere_opens_with_what_was_whole(phone, tmp_path) -> None:
    """Half a transaction is none."""
    words = [f"{n}" for n in range(12)]
    for each in words:
        phone.journal.write([note(each)])
    log = phone.path.with_name("journal.db-wal").read_bytes()
    chance = random.Random(5)
    for n in range(15):
        cut = tmp_path / f"cut {n}" / "journal.db"
        cut.parent.mkdir()
        for name in ("journal.db", "journal.db.marker"):
            (cut.parent / name).write_bytes((phone.path.parent / name).read_bytes())
        cut.with_name("journal.db-wal").write_bytes(log[: chance.randrange(len(log))])
        try:
            opened = open_or_recover(cut, now_ms=phone.clock, entropy=phone.chance.randbytes)
        except Damaged:
            pytest.fail("a cut log is no damage")
        with opened.journal as journal:
            assert opened.holes == ()
            found = sorted(texts(journal), key=int)
            assert found == words[: len(found)]


def test_a_clock_set_back_blocks_nothing(phone) -> None:
    """Records go on in their order by stamp."""
    (first,) = phone.journal.write([note("first")])
    phone.clock.ms = 5
    (second,) = phone.journal.write([note("second")])
    assert second.stamp > first.stamp
    assert second.seq == first.seq + 1


WRITER = """
import os, sys
sys.path[:0] = sys.argv[2:]
from pathlib import Path
from journal_making import Clock, note
from fieldapp.journal.store import Journal
journal = Journal.open(Path(sys.argv[1]), now_ms=Clock(), entropy=os.urandom)
print("open", flush=True)
while True:
    (record,) = journal.write([note("tap")])
    print(record.id, flush=True)
"""


def test_kill_9_keeps_every_confirmed_tap_once(tmp_path, long) -> None:
    """At random moments, one process after another on the same file."""
    path = tmp_path / "journal.db"
    chance = random.Random(9)
    confirmed: list[str] = []
    for _ in range(200 if long else 4):
        process = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(path), *sys.path],
            stdout=subprocess.PIPE,
            text=True,
        )
        assert process.stdout.readline() == "open\n"
        time.sleep(chance.uniform(0.0, 0.15))
        os.kill(process.pid, signal.SIGKILL)
        lines = process.stdout.read().split("\n")
        process.wait()
        process.stdout.close()
        confirmed += [line for line in lines if len(line) == 36]
    device = Device(path)
    ids = [record.id for _, record in device.journal.arrivals()]
    assert len(confirmed) > 3
    assert set(confirmed) <= set(ids)
    assert len(ids) == len(set(ids))
    assert verify(device.journal) == []
    (head,) = device.journal.vector()
    assert head.seq == len(ids)
    device.journal.close()
