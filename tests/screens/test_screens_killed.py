"""The program killed in the middle of a round, in a process and a window of its own."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from fieldapp.journal.store import Journal

HERE = Path(__file__).parent
ROOT = HERE.parents[1]


def walk_and_kill(folder: Path, taps: int) -> list[str]:
    """Run the program, kill it without warning once `taps` taps were answered; what it said."""
    environment = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(ROOT), str(HERE), *sys.path]),
    }
    process = subprocess.Popen(
        [sys.executable, str(HERE / "killed_round.py"), str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env=environment,
    )
    said = []
    for line in process.stdout:
        said.append(line.strip())
        if len(said) > taps:
            break
    process.send_signal(signal.SIGKILL)
    process.wait()
    return said[1:]


def hives_logged(folder: Path) -> list[str]:
    with Journal.open(
        folder / "journal.db", now_ms=lambda: 1_782_892_800_000, entropy=os.urandom
    ) as journal:
        records = [record for _, record in journal.arrivals()]
    numbers = {r.hive: r.body["number"] for r in records if r.kind == "hive"}
    return [numbers[r.hive] for r in records if r.kind == "application"]


@pytest.mark.parametrize("taps", [1, 9])
def test_killed_between_taps_every_answered_tap_is_there_once(tmp_path, taps):
    """And started again, the round goes on with the hive after them."""
    said = walk_and_kill(tmp_path, taps)
    logged = hives_logged(tmp_path)
    assert said == [f"Hive {n} done" for n in range(1, taps + 1)]
    assert logged[:taps] == [str(n) for n in range(1, taps + 1)]
    assert len(logged) == len(set(logged))

    again = walk_and_kill(tmp_path, 1)
    assert again == [f"Hive {len(logged) + 1} done"]
