"""The server's files harmed while it stood still: it says what, and the phones mend it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from phone_process import PhoneProcess, phone
from server_process import ServerProcess, run_command, running

from fieldapp.journal.schema import SET_ASIDE
from fieldapp.sync.pinned import pinned_session


def _journal_in(folder: Path) -> Path:
    return next((folder / "server" / "journals").glob("*.sqlite"))


def _settled(path: Path) -> None:
    """Bring the write-ahead log into the file, so that the file is what there is."""
    with closing(sqlite3.connect(path)) as db:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _all_is_back(server: ServerProcess, keeper: PhoneProcess, folder: Path) -> None:
    """Assert that a sync of the phone makes the server whole for a fresh phone."""
    told = keeper.do("sync")
    assert told["ok"], told
    with phone(folder / "fresh") as fresh:
        assert fresh.do("pair", code=server.new_code(), address=server.address)["ok"]
        assert fresh.do("sync")["ok"]
        assert fresh.do("ids") == keeper.do("ids")
        assert fresh.do("vector") == keeper.do("vector")


@pytest.fixture
def port(tmp_path: Path) -> int:
    """The port of a server that held a phone's 400 records and has been stopped."""
    with running(tmp_path / "server") as server, phone(tmp_path / "phone") as keeper:
        assert keeper.do("pair", code=server.pairing_code, address=server.address)["ok"]
        keeper.do("fill", count=400)
        assert keeper.do("sync")["ok"]
        assert server.stop() == 0
        return server.port


def test_a_record_altered_behind_its_back_is_named_and_comes_back(tmp_path: Path, port: int):
    """By writer and number, when the server starts."""
    journal = _journal_in(tmp_path)
    with closing(sqlite3.connect(journal)) as db:
        db.execute("UPDATE record SET raw = CAST(raw || X'20' AS BLOB) WHERE seq = 200")
        db.commit()
        writer = db.execute("SELECT hex(writer) FROM branch").fetchone()[0].lower()
    with running(tmp_path / "server", port) as server, phone(tmp_path / "phone") as keeper:
        assert f"Records 200 to 200 of writer {writer}: altered" in server.said
        _all_is_back(server, keeper, tmp_path)


def test_altered_bytes_stay_in_sight_and_in_the_backup(tmp_path: Path, port: int):
    """On the page, as text and not as markup, before the sync that mends it and after."""
    with closing(sqlite3.connect(_journal_in(tmp_path))) as db:
        db.execute("UPDATE record SET raw = CAST('<b>what it became' AS BLOB) WHERE seq = 200")
        db.commit()
    with running(tmp_path / "server", port) as server, phone(tmp_path / "phone") as keeper:
        browser = pinned_session(server.fingerprint)
        root = f"https://{server.address}"
        code = server.new_code(purpose="page")
        browser.post(
            f"{root}/first",
            data={"code": code, "password": "three small words"},
            headers={"Origin": root},
            timeout=20,
        )
        for held in (399, 400):
            page = browser.get(f"{root}/records", timeout=20).text
            assert f"{held} records held here" in page
            assert "record 200: 17 bytes" in page
            assert "&lt;b&gt;what it became" in page
            assert keeper.do("sync")["ok"]
        server.command("backup", str(tmp_path / "saved"))
    restored = tmp_path / "again" / "server"
    run_command(restored, "restore", str(tmp_path / "saved"))
    with closing(sqlite3.connect(_journal_in(tmp_path / "again"))) as db:
        kept = db.execute("SELECT seq, raw FROM record WHERE standing = ?", (SET_ASIDE,))
        assert kept.fetchall() == [(200, b"<b>what it became")]


def test_a_damaged_file_is_saved_kept_and_mended(tmp_path: Path, port: int):
    """Some pages are gone: the start says so, keeps the file, and a sync brings the rest."""
    journal = _journal_in(tmp_path)
    _settled(journal)
    whole = bytearray(journal.read_bytes())
    middle = len(whole) // 2 // 4096 * 4096
    whole[middle : middle + 8192] = bytes(8192)
    journal.write_bytes(whole)
    with running(tmp_path / "server", port) as server, phone(tmp_path / "phone") as keeper:
        assert "Home: The journal was damaged." in server.said
        assert list(journal.parent.glob("*damaged*"))
        _all_is_back(server, keeper, tmp_path)


def test_a_journal_that_is_gone_comes_back(tmp_path: Path, port: int):
    """Deleted with all that belongs to it: the phone brings everything again."""
    for path in (tmp_path / "server" / "journals").iterdir():
        path.unlink()
    with running(tmp_path / "server", port) as server, phone(tmp_path / "phone") as keeper:
        _all_is_back(server, keeper, tmp_path)


def test_derived_state_that_is_gone_costs_time_only(tmp_path: Path, port: int):
    """The book's file, deleted or damaged, is made anew from the journal."""
    for path in (tmp_path / "server" / "books").iterdir():
        path.write_bytes(b"nonsense")
    with running(tmp_path / "server", port) as server, phone(tmp_path / "phone") as keeper:
        _all_is_back(server, keeper, tmp_path)
