"""Every write of one sync fails once, on either side: the right result, or a clean error."""

from __future__ import annotations

import random
import shutil
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parents[1] / "journal"))
from failing_disk import FailingDisk, connect
from journal_making import FINDER, Clock, Device, note, texts

from fieldapp.journal.errors import JournalError
from fieldapp.journal.holes import verify
from fieldapp.journal.merging import sync
from fieldapp.journal.replica import Host
from fieldapp.journal.store import Journal


@pytest.fixture
def sides(tmp_path: Path) -> Path:
    """A folder with a phone's and a server's journal that hold some alike and some not."""
    phone = Device(tmp_path / "phone" / "journal.db", 1)
    server = Device(tmp_path / "server" / "journal.db", 2)
    phone.journal.write([note("both hold this")])
    assert sync(phone.journal, server.host, FINDER).equal
    phone.journal.write([note(f"the phone's {n}") for n in range(40)])
    server.journal.write([note(f"the server's {n}") for n in range(40)])
    phone.journal.close()
    server.journal.close()
    return tmp_path


def opened(folder: Path, seed: int, disk: FailingDisk | None, name: str) -> Journal:
    through = {"connect": lambda path: connect(path, name)} if disk else {}
    return Journal.open(
        folder / "journal.db", now_ms=Clock(), entropy=random.Random(seed).randbytes, **through
    )


@contextmanager
def on_disk(fails_at: int, full: bool, for_good: bool) -> Iterator[tuple[FailingDisk, str]]:
    name = f"failing-{random.getrandbits(64)}"
    disk = FailingDisk(name, fails_at, full, for_good)
    try:
        yield disk, name
    finally:
        disk.unregister()


def synced(room: Path, weak: str, fails_at: int, full: bool, for_good: bool) -> int:
    """Sync with one side on a failing disk; check both sides, then mend it. Return its calls."""
    whole = False
    with on_disk(fails_at, full, for_good) as (disk, name), ExitStack() as stack:
        journals = {}
        try:
            for seed, side in enumerate(("phone", "server"), 3):
                there = disk if side == weak else None
                journals[side] = opened(room / side, seed, there, name)
                stack.callback(journals[side].connections.close)
            outcome = sync(journals["phone"], Host(journals["server"], FINDER), FINDER)
        except JournalError as error:
            assert str(error), "said in words"
        else:
            assert outcome.equal
            whole = True
        calls = disk.calls
    with opened(room / "phone", 5, None, "") as phone, opened(room / "server", 6, None, "") as home:
        assert verify(phone) == verify(home) == []
        assert not whole or phone.vector() == home.vector(), "what was said to be equal is"
        assert sync(phone, Host(home, FINDER), FINDER).equal
        assert texts(phone) == texts(home)
        assert len(texts(phone)) == len(set(texts(phone))) == 81
    return calls


@pytest.mark.parametrize("weak", ["phone", "server"])
@pytest.mark.parametrize("full", [True, False], ids=["full", "broken"])
@pytest.mark.parametrize("for_good", [True, False], ids=["from then on", "once"])
def test_every_write_of_a_sync_fails_once(
    sides: Path, tmp_path: Path, weak: str, full: bool, for_good: bool
) -> None:
    """Nothing is lost or doubled, no file is harmed, and with a sound disk it goes on."""

    def attempt(fails_at: int) -> int:
        room = tmp_path / f"fails at {fails_at}"
        for side in ("phone", "server"):
            shutil.copytree(sides / side, room / side)
        return synced(room, weak, fails_at, full, for_good)

    calls = attempt(0)
    assert calls > 10, "a sync writes"
    for fails_at in range(1, calls + 1):
        attempt(fails_at)
