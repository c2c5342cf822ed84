"""The power fails: every tap that was confirmed is there when it comes back."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from journal_making import Clock, note, texts
from power_cut import Connection, PowerCutDisk

from fieldapp.journal.errors import JournalError
from fieldapp.journal.holes import verify
from fieldapp.journal.recovery import open_or_recover
from fieldapp.journal.store import Journal

TAPS = 40


class Unsynced(Connection):
    """A connection on which nothing is ever put down for good."""

    def execute(self, sql, values=()):
        return super().execute("PRAGMA synchronous = OFF" if "synchronous" in sql else sql, values)


def after_cuts(
    tmp_path: Path, connection: type[Connection], chance: Callable[[int], random.Random | None]
) -> list[tuple[list[str], list[str]]]:
    """Write taps, cut the power after each; return (confirmed, found after the cut) of each."""
    path = tmp_path / "phone" / "journal.db"
    entropy = random.Random(1).randbytes
    Journal.open(path, now_ms=Clock(), entropy=entropy).close()
    name = f"power-cut-{tmp_path.name}"
    disk = PowerCutDisk(name)
    journal = Journal.open(
        path, now_ms=Clock(), entropy=entropy, connect=lambda p: connection(p, name)
    )
    found = []
    confirmed: list[str] = []
    for n in range(TAPS):
        journal.write([note(f"{n:02}")])
        confirmed.append(f"{n:02}")
        if n % 10 == 9:
            journal.connections.here().execute("PRAGMA wal_checkpoint(PASSIVE)")
        folder = tmp_path / f"after {n}"
        folder.mkdir()
        disk.survivors(folder, chance(n))
        marker = path.with_name("journal.db.marker")
        (folder / marker.name).write_bytes(marker.read_bytes())
        found.append((list(confirmed), left(folder / "journal.db")))
    journal.close()
    disk.unregister()
    return found


def left(path: Path) -> list[str]:
    try:
        opened = open_or_recover(path, now_ms=Clock(), entropy=random.Random(2).randbytes)
    except JournalError:
        return []
    with opened.journal as journal:
        assert verify(journal) == []
        return texts(journal)


@pytest.mark.parametrize("chance", [lambda n: None, random.Random], ids=["none", "any"])
def test_every_confirmed_tap_survives_a_power_cut(tmp_path, chance) -> None:
    """Whatever the disk kept of the writes that were not synced."""
    for confirmed, found in after_cuts(tmp_path, Connection, chance):
        assert found == confirmed


def test_the_test_sees_taps_lost_without_syncing(tmp_path) -> None:
    """With ``synchronous=OFF`` the same cuts lose confirmed taps, so the test above can fail."""
    cuts = after_cuts(tmp_path, Unsynced, lambda n: None)
    assert any(found != confirmed for confirmed, found in cuts)
