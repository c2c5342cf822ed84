"""The server's clock: the machine's own, or one that goes on from a moment that it is told."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from pathlib import Path

from server_process import run_command, running

from syncserver.clock import Clock

THEN = datetime(2026, 9, 20, 8, 30, tzinfo=UTC)


def test_a_clock_goes_on_from_the_moment_that_it_was_told():
    """Seconds, milliseconds and the day all belong to it."""
    clock = Clock.begun_at(THEN)
    assert 0 <= clock.seconds() - int(THEN.timestamp()) <= 1
    assert 0 <= clock.ms() - int(THEN.timestamp() * 1000) < 2000
    assert clock.today() == THEN.astimezone().date()
    assert abs(Clock().seconds() - datetime.now(UTC).timestamp()) < 2
    assert Clock().today() == date.today()


def test_a_server_told_to_begin_at_a_moment_lives_from_there(tmp_path: Path):
    """An operation begun on it is of that day."""
    with running(tmp_path):
        pass
    moment = THEN.strftime("%Y-%m-%dT%H:%M:%S%z")
    told = run_command(tmp_path, "--begin-at", moment, "operations", "Away").stdout
    [begun] = re.findall(r"Away, since (\S+ \S+)", told)
    assert begun == THEN.astimezone().strftime("%Y-%m-%d %H:%M")


def test_a_moment_that_is_none_is_told_in_words(tmp_path: Path):
    """With the form that fits; no server is made."""
    told = run_command(tmp_path / "none", "--begin-at", "yesterday", "operations")
    assert told.returncode == 2
    assert "does not match the format" in told.stderr
    assert not (tmp_path / "none").exists()
