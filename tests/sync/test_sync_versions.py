"""By what phone and server compute: said after a sync, on the phone; kept for the page."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from pathlib import Path

import pytest
from server_process import ServerProcess, running

from fieldapp.assets import folder as assets
from fieldapp.book.file import RULES
from fieldapp.husbandry.library import library_version, load
from fieldapp.journal.store import Journal
from fieldapp.sync import Sync
from fieldapp.wire.versions import Versions, newer
from fieldapp.words.speech import Speech

OURS = Versions(int(RULES), library_version(assets("treatments")))
YEAR, NUMBER = OURS.library.split(".")
speech = Speech()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


def remarks(server: ServerProcess, folder: Path, versions: Versions | None) -> list[str]:
    """Sync a phone that computes by `versions`; return what it says beside the outcome."""
    with Journal.open(folder / "j", now_ms=lambda: 1, entropy=secrets.token_bytes) as journal:
        sync = Sync(folder, journal, "phone", versions=lambda: versions)
        sync.pair(server.new_code(server.new_operation()), server.address)
        outcome = sync.run(lambda _: None)
        assert outcome.ok, speech(outcome.phrase)
        return [speech(one) for one in outcome.remarks]


def test_the_versions_are_those_of_rules_and_library():
    """The number that rules count up with, and the library's own version."""
    assert load(assets("treatments")).version == OURS.library
    assert OURS.rules > 0


def test_alike_nothing_is_said(server: ServerProcess, tmp_path: Path):
    """Nor by a phone that does not tell."""
    assert remarks(server, tmp_path / "same", OURS) == []
    assert remarks(server, tmp_path / "older program", None) == []


def test_the_older_side_is_named_with_what_to_do(server: ServerProcess, tmp_path: Path):
    """Rules and library each for itself, whichever side is behind; the sync goes on."""
    older = Versions(OURS.rules - 1, f"{YEAR}.0")
    rules, library = remarks(server, tmp_path / "older", older)
    assert f"newer rules ({OURS.rules}) than this phone ({OURS.rules - 1})" in rules
    assert rules.endswith("Update this phone.")
    assert f"({OURS.library}) is newer than this phone's ({YEAR}.0)" in library
    ahead = Versions(OURS.rules + 1, f"{YEAR}.{int(NUMBER) + 9}")
    rules, library = remarks(server, tmp_path / "newer", ahead)
    assert f"newer rules ({OURS.rules + 1}) than the server ({OURS.rules})" in rules
    assert rules.endswith("Update the server.")
    assert "Update the server" in library


def test_the_server_keeps_what_a_phone_said(server: ServerProcess, tmp_path: Path):
    """The newest word of each phone, for the page that lists them."""
    remarks(server, tmp_path / "told", Versions(OURS.rules + 1, "2031.4"))
    with server.store() as store:
        assert (store.devices()[-1].rules, store.devices()[-1].library) == (
            OURS.rules + 1,
            "2031.4",
        )


@pytest.mark.parametrize(
    ("ours", "theirs", "whose"),
    [
        ("2026.1", "2026.1", ""),
        ("2026.2", "2026.10", "theirs"),
        ("2027.1", "2026.10", "ours"),
        ("own", "2026.1", "other"),
        ("2026.01", "2026.1", "other"),
    ],
)
def test_whose_library_is_newer(ours: str, theirs: str, whose: str):
    """By numbers, not by letters; what is no number is another one."""
    assert newer(ours, theirs) == whose
