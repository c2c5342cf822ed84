"""The server's disk is full: the phone is told so in words, and nothing is lost."""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import requests
from wired import Handset, Home, Way

sys.path.append(str(Path(__file__).parents[1] / "journal"))
from journal_making import note, texts

from fieldapp.journal.holes import verify
from fieldapp.words.speech import Speech


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Home]:
    """A server that the phone's client reaches by its name."""
    made = Home(tmp_path / "server", "home")

    def session(fingerprint: str) -> requests.Session:
        joined = requests.Session()
        joined.mount("https://", Way({made.address: made}, lambda _: None))
        return joined

    monkeypatch.setattr("fieldapp.sync.client.pinned_session", session)
    yield made
    made.close()


@pytest.fixture
def phone(tmp_path: Path) -> Iterator[Handset]:
    made = Handset(tmp_path / "phone", 1)
    yield made
    made.close()


def test_a_full_server_says_so_and_takes_the_rest_when_there_is_room(
    home: Home, phone: Handset, tmp_path: Path
):
    """The phone keeps what was not taken; with room again one sync brings it."""
    phone.journal.write([note("before")])
    assert phone.meet(home).ok
    phone.journal.write([note(f"{n}") for n in range(2500)])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sqlite3, "connect", without_room(sqlite3.connect))
        home.crash(tmp_path / "full")
        told = phone.meet(home)
        assert not told.ok
        assert "The server's disk is full." in Speech()(told.phrase)
        assert "Nothing is lost" in Speech()(told.advice)
        assert texts(home.journal) == ["before"]
    home.crash(tmp_path / "roomy")
    assert phone.meet(home).ok
    assert texts(home.journal) == texts(phone.journal)
    assert verify(home.journal) == []


def without_room(connect):
    """Let no journal's file grow, as on a disk that is full."""

    def limited(path, *arguments, **more):
        connection = connect(path, *arguments, **more)
        if "journals" in str(path):
            # SQLite lifts it to the pages in use.
            connection.execute("PRAGMA max_page_count = 1")
        return connection

    return limited
