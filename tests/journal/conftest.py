"""Fixtures of the journal's tests."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from journal_making import Device


@pytest.fixture
def device(tmp_path: Path) -> Iterator[Callable[..., Device]]:
    """Return a maker of devices; each has a file of its own and is closed at the end."""
    made: list[Device] = []

    def make(name: str = "phone", server: bool = False) -> Device:
        made.append(Device(tmp_path / name / "journal.db", len(made), server))
        return made[-1]

    yield make
    for each in made:
        each.journal.close()
