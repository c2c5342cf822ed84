"""The SQLite store keeps the contract, and what is its own: files, rights, restarts."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from store_contract import HOME, PHONE, StoreContract

from syncserver.store import schema
from syncserver.store.errors import StoreBroken
from syncserver.store.sqlite import SqliteStore


class TestSqliteStore(StoreContract):
    """The contract, on a real file."""

    @pytest.fixture
    def store(self, tmp_path: Path) -> Iterator[SqliteStore]:
        store = SqliteStore(tmp_path / "server.sqlite")
        yield store
        store.close()


def test_everything_is_there_after_a_restart(tmp_path: Path):
    """A second opening of the file finds what the first one wrote."""
    first = SqliteStore(tmp_path / "server.sqlite")
    first.add_operation(HOME)
    first.add_device(PHONE, b"t" * 32)
    first.close()
    again = SqliteStore(tmp_path / "server.sqlite")
    assert again.operations() == [HOME]
    assert again.device(b"t" * 32) == PHONE


def test_a_file_of_the_first_version_is_brought_up_to_date(tmp_path: Path):
    """Its phones stay paired; what that version did not know of them is not known."""
    old = sqlite3.connect(tmp_path / "server.sqlite")
    old.executescript(schema._VERSIONS[0])
    old.execute("PRAGMA user_version=1")
    old.execute("INSERT INTO operation VALUES (?, ?, ?, NULL)", HOME)
    old.execute("INSERT INTO device VALUES (?, ?, ?, ?, ?, ?, ?)", (*PHONE[:6], b"t" * 32))
    old.commit()
    old.close()
    assert SqliteStore(tmp_path / "server.sqlite").device(b"t" * 32) == PHONE


def test_two_programs_may_begin_a_store_at_once(tmp_path: Path):
    """A command beside a server that starts: each table is made once, and both go on."""
    with ThreadPoolExecutor(4) as threads:
        stores = list(threads.map(SqliteStore, [tmp_path / "server.sqlite"] * 4))
    stores[0].add_operation(HOME)
    assert stores[3].operations() == [HOME]


def test_only_its_user_may_read_the_file(tmp_path: Path):
    """The file holds digests of secrets and is closed to others."""
    SqliteStore(tmp_path / "server.sqlite").close()
    assert (tmp_path / "server.sqlite").stat().st_mode & 0o777 == 0o600


def test_a_copy_is_whole(tmp_path: Path):
    """The copy opens as a store of its own."""
    store = SqliteStore(tmp_path / "server.sqlite")
    store.add_operation(HOME)
    store.copy_to(str(tmp_path / "copy.sqlite"))
    assert SqliteStore(tmp_path / "copy.sqlite").operations() == [HOME]


def test_a_file_that_is_no_store_is_an_error_for_people(tmp_path: Path):
    """It says which file, and the file is left as it was."""
    (tmp_path / "server.sqlite").write_bytes(b"not a database at all" * 100)
    with pytest.raises(StoreBroken, match=r"server\.sqlite"):
        SqliteStore(tmp_path / "server.sqlite")
    assert (tmp_path / "server.sqlite").read_bytes() == b"not a database at all" * 100


def test_a_file_of_a_newer_server_is_refused(tmp_path: Path):
    """An older server does not guess what a newer one wrote."""
    SqliteStore(tmp_path / "server.sqlite").close()
    db = sqlite3.connect(tmp_path / "server.sqlite")
    db.execute("PRAGMA user_version=99")
    db.close()
    with pytest.raises(StoreBroken, match="newer version"):
        SqliteStore(tmp_path / "server.sqlite")
