"""What a tap asks of the journal must not take longer the more records it holds."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from journal_making import Device

from fieldapp.journal.store import Journal

ASKED: dict[str, Callable[[Journal], object]] = {
    "other contents": lambda journal: journal.other_contents(),
    "not understood": lambda journal: journal.not_understood(),
    "the last arrival": lambda journal: journal.last_arrival(),
    "how many": lambda journal: journal.count(),
    "some by their ids": lambda journal: journal.by_ids(["0" * 8 + "-0000-7000-8000-" + "0" * 12]),
    "all that came since": lambda journal: list(journal.arrivals(0)),
}


@pytest.mark.parametrize("asked", ASKED)
def test_no_question_of_a_tap_walks_every_record(asked: str, tmp_path: Path) -> None:
    """SQLite is asked how it would answer each statement that the question sends."""
    device = Device(tmp_path / "phone.db", 1)
    sent: list[str] = []
    device.journal.connections.here().set_trace_callback(sent.append)
    ASKED[asked](device.journal)
    device.journal.connections.here().set_trace_callback(None)
    statements = [each for each in sent if each.startswith("SELECT")]
    assert statements
    with sqlite3.connect(tmp_path / "phone.db") as file:
        for each in statements:
            steps = [row[3] for row in file.execute("EXPLAIN QUERY PLAN " + each)]
            assert not any(step == "SCAN record" for step in steps), (each, steps)
