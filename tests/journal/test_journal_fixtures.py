"""Journals of every version that people may have open for ever, and say the same."""

from __future__ import annotations

import io
import json
import re
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from journal_making import FINDER, Device, holds, note

from fieldapp.journal.backup import restore
from fieldapp.journal.chain import Place
from fieldapp.journal.exchange import export_lines, import_lines
from fieldapp.journal.holes import holes, verify
from fieldapp.journal.merging import sync
from fieldapp.journal.recovery import open_or_recover
from fieldapp.journal.remains import known
from fieldapp.journal.tree import Tree

FIXTURES = Path(__file__).parents[1] / "fixtures"
VERSIONS = sorted(FIXTURES.glob("journal-[0-9]*"))


@pytest.fixture(params=VERSIONS, ids=lambda path: path.name)
def version(request) -> Path:
    return request.param


@pytest.fixture
def opened(version: Path, tmp_path: Path):
    """Return a device on a copy of the version's journal."""
    for name in ("journal.db", "journal.db.marker"):
        shutil.copy(version / name, tmp_path / name)
    device = Device(tmp_path / "journal.db", 5)
    yield device
    device.journal.close()


def expected(version: Path) -> dict:
    return json.loads((version / "holds.json").read_text())


def test_there_is_a_journal_of_the_first_version() -> None:
    """The oldest of all is kept."""
    assert VERSIONS[0].name == "journal-1"


def test_an_old_journal_opens_and_says_the_same(version: Path, opened: Device) -> None:
    """Heads, records, what is not understood, holes, remarks and questions."""
    now = json.loads(json.dumps(holds(opened)))
    assert now == expected(version)
    assert verify(opened.journal) == []


def test_a_hole_of_an_old_journal_knows_what_stands_above_it(opened: Device) -> None:
    """The first version did not keep that; where a writer forked it tells whose hole it is."""
    [hole] = known(opened.journal)
    assert hole.above is not None
    with opened.journal.connections.reading() as connection:
        above = Tree(connection).standing(Place(hole.writer, hole.last + 1, hole.above))
    assert above is not None


@pytest.mark.parametrize("index", ["record_other", "branch_writer"])
def test_a_damaged_old_journal_is_saved_with_its_holes(
    version: Path, tmp_path: Path, index: str
) -> None:
    """An index of it is garbage: records and holes are read from their tables, of either form.

    The second one is needed to bring the first version's file up to date, so that fails.
    """
    path = tmp_path / "journal.db"
    shutil.copy(version / "journal.db", path)
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute(
            "SELECT rootpage FROM sqlite_schema WHERE name = ?", (index,)
        ).fetchone()
        (size,) = connection.execute("PRAGMA page_size").fetchone()
    data = bytearray(path.read_bytes())
    data[(page - 1) * size : page * size] = b"\xa5" * size
    path.write_bytes(data)
    opened = open_or_recover(path, now_ms=lambda: 1, entropy=lambda n: b"\x07" * n)
    with opened.journal as journal:
        assert opened.kept is not None
        [first, last, why] = expected(version)["holes"][0][1:4]
        assert (first, last, why) in [(hole.first, hole.last, hole.why) for hole in holes(journal)]
        ids = {record.id for _, record in journal.arrivals()}
        assert {record[1] for record in expected(version)["records"]} == ids


def test_an_old_journal_goes_on(version: Path, opened: Device) -> None:
    """It is written to, and synced with a new one."""
    opened.journal.write([note("today")])
    server = Device(opened.path.parent / "server" / "journal.db", 6, server=True)
    assert sync(opened.journal, server.host, FINDER).equal
    records = {record.id for _, record in server.journal.arrivals()}
    assert {record[1] for record in expected(version)["records"]} < records
    server.journal.close()


def test_an_old_export_is_read_and_written_byte_for_byte(version: Path, tmp_path: Path) -> None:
    """The text is the same again, but that what waits above a hole now says its SHA-256."""
    data = (version / "journal.jsonl").read_bytes()
    device = Device(tmp_path / "journal.db", 7)
    assert import_lines(device.journal, io.BytesIO(data), "journal.jsonl").faults == ()
    file = io.BytesIO()
    export_lines(device.journal, file)
    seal = rb',"sha256":"[0-9a-f]{64}"'
    assert re.sub(seal, b"", file.getvalue()) == re.sub(seal, b"", data)
    assert device.journal.vector().hash().hex() == expected(version)["vector"]
    device.journal.close()


def test_an_old_backup_is_restored(version: Path, tmp_path: Path) -> None:
    """Whole, and with the same vector."""
    restored = restore(
        version / "backup.zip", tmp_path / "journal.db", now_ms=lambda: 1, entropy=bytes
    )
    with restored.journal as journal:
        assert restored.whole
        assert journal.vector().hash().hex() == expected(version)["vector"]
