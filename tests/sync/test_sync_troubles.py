"""What can go wrong when a phone pairs or syncs: each in words, with what to do, nothing lost."""

from __future__ import annotations

import itertools
import os
import socket
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from phone_process import APIARY, KEEPER
from server_process import ServerProcess, running

from fieldapp.journal.record import Draft
from fieldapp.journal.store import Journal
from fieldapp.sync import Outcome, Sync, SyncError
from fieldapp.sync.errors import BadCode, NoAddress, NotThere, Refused, WrongServer
from fieldapp.wire import invitation
from fieldapp.words.speech import Speech

speech = Speech()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    numbers = itertools.count(1)
    with Journal.open(
        tmp_path / "journal.sqlite",
        now_ms=lambda: 1_790_000_000_000 + next(numbers),
        entropy=lambda size: next(numbers).to_bytes(size, "big"),
    ) as opened:
        yield opened


@pytest.fixture
def sync(tmp_path: Path, journal: Journal) -> Sync:
    return Sync(tmp_path, journal, "keeper's phone", pause=lambda _: None)


def log(journal: Journal, count: int = 1) -> None:
    """Write records in one transaction."""
    when = "2026-08-01T10:00:00+01:00[Europe/London]"
    body = {"name": "Ferry Lane", "registration": "x" * 50}
    journal.write([Draft("apiary", when, KEEPER, body, apiary=APIARY)] * count)


def words(outcome: Outcome) -> str:
    """Return what the keeper reads at the end."""
    return " ".join(speech(one) for one in (outcome.phrase, outcome.advice) if one)


def unused_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return listener.getsockname()[1]


def test_a_mistyped_code_is_seen_before_anything_is_sent(sync: Sync):
    """It says how a code looks."""
    with pytest.raises(BadCode, match="six groups of four"):
        sync.pair("ABCD-EFGH", "127.0.0.1:1")


@pytest.mark.parametrize("address", ["", "no port", "host:0", "host:99999", ":8463", "host:x"])
def test_an_address_that_is_none_is_named(server: ServerProcess, sync: Sync, address: str):
    """It says how an address looks."""
    with pytest.raises(NoAddress, match=r"192\.168\.1\.20:8463"):
        sync.pair(server.new_code(), address)


def test_a_server_that_is_not_there(sync: Sync, server: ServerProcess):
    """Pairing says so, with what to look at."""
    with pytest.raises(NotThere, match="Is it running"):
        sync.pair(server.new_code(), f"127.0.0.1:{unused_port()}")


def test_a_wrong_code_of_the_right_server(sync: Sync, server: ServerProcess):
    """The server does not know it; no pairing is kept."""
    made_up = invitation.code("0000000", server.fingerprint)
    with pytest.raises(Refused, match="does not know this pairing code") as refused:
        sync.pair(made_up, server.address)
    assert refused.value.code == "code_wrong"
    assert sync.pairing is None


def test_a_code_is_told_to_no_server_but_its_own(sync: Sync, tmp_path: Path, server: ServerProcess):
    """A code of one server, shown to another: the other never hears it."""
    with running(tmp_path / "another") as other:
        code = server.new_code()
        with pytest.raises(WrongServer, match="Nothing was sent"):
            sync.pair(code, other.address)
        assert sync.pair(code, server.address).records == 0


def test_a_code_used_twice(sync: Sync, server: ServerProcess):
    """The second time it opens nothing, and the first pairing stands."""
    code = server.new_code(server.new_operation())
    sync.pair(code, server.address)
    first = sync.pairing
    with pytest.raises(Refused, match="used already"):
        sync.pair(code, server.address)
    assert sync.pairing == first


def test_the_text_of_the_qr_needs_no_address(sync: Sync, server: ServerProcess):
    """Scanned, it pairs at once."""
    typed = server.new_code(server.new_operation())
    sync.pair(invitation.link(server.address, typed, server.fingerprint))
    assert sync.pairing is not None
    assert sync.pairing.address == server.address


def test_another_machine_at_the_servers_address(
    sync: Sync, journal: Journal, server: ServerProcess, tmp_path: Path
):
    """The pin is wrong: no record and no token goes there, and the keeper is told."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    log(journal)
    with running(tmp_path / "another") as other:
        sync.moved(other.address)
        outcome = sync.run(lambda _: None)
        with other.store() as store:
            assert store.devices() == []
    assert not outcome.ok
    assert "is not the server of this pairing" in words(outcome)
    assert journal.count() == 1


def test_nobody_answers(sync: Sync, journal: Journal, server: ServerProcess):
    """The keeper is told, the record stays, and the next sync brings it."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    log(journal)
    sync.moved(f"127.0.0.1:{unused_port()}")
    assert "does not answer" in words(sync.run(lambda _: None))
    sync.moved(server.address)
    assert sync.run(lambda _: None).sent == 1


def test_something_else_answers(sync: Sync, server: ServerProcess):
    """A port on which no TLS is spoken counts as a server that is not there."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    with socket.create_server(("127.0.0.1", 0)) as listener:
        listener.settimeout(5)
        sync.moved(f"127.0.0.1:{listener.getsockname()[1]}")

        def chat() -> None:
            connection, _ = listener.accept()
            connection.sendall(b"220 hello\r\n")
            connection.close()

        threading.Thread(target=chat, daemon=True).start()
        assert "does not answer" in words(sync.run(lambda _: None))


def test_a_revoked_phone(sync: Sync, journal: Journal, server: ServerProcess):
    """It is told that its right was taken away and that its records stay."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    log(journal)
    server.command("revoke", sync.pairing.device)
    outcome = sync.run(lambda _: None)
    assert "right to sync was taken away" in words(outcome)
    assert journal.count() == 1


def test_not_paired(sync: Sync):
    """A phone without a server says how to get one."""
    outcome = sync.run(lambda _: None)
    assert "not paired" in words(outcome)
    assert "shows a code" in words(outcome)


def test_a_full_phone_sends_all_the_same_and_says_what_to_do(
    sync: Sync, journal: Journal, server: ServerProcess, tmp_path: Path
):
    """What the phone has is on the server before its own disk is asked for room."""
    operation = server.new_operation()
    other = tmp_path / "other"
    with Journal.open(other / "j", now_ms=lambda: 1, entropy=os.urandom) as theirs:
        their_sync = Sync(other, theirs, "helper's phone")
        their_sync.pair(server.new_code(operation), server.address)
        log(theirs, 300)
        assert their_sync.run(lambda _: None).ok
        sync.pair(server.new_code(operation), server.address)
        log(journal, 2)
        sync.join()
        # SQLite lifts it to the pages in use: from here on the file cannot grow.
        journal.connections.here().execute("PRAGMA max_page_count = 1")
        outcome = sync.run(lambda _: None)
        assert "no room left" in words(outcome)
        assert outcome.sent == 2
        assert their_sync.run(lambda _: None).received == 2


def test_a_damaged_pairing_file_is_no_pairing(sync: Sync, server: ServerProcess, tmp_path: Path):
    """The phone says that it is not paired; pairing again mends it."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    (tmp_path / "pairing.json").write_text('{"address": "half')
    assert sync.pairing is None
    sync.pair(server.new_code(server.new_operation()), server.address)
    assert sync.run(lambda _: None).ok


def test_only_the_app_may_read_the_token(sync: Sync, server: ServerProcess, tmp_path: Path):
    """The file that holds it is closed to others."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    assert (tmp_path / "pairing.json").stat().st_mode & 0o777 == 0o600


def test_a_cancelled_sync_keeps_what_it_did(sync: Sync, journal: Journal, server: ServerProcess):
    """It stops before its next request; the next sync sends the rest and nothing twice."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    log(journal, 5000)
    outcome = sync.run(lambda _: sync.cancel())
    assert "was stopped" in words(outcome)
    assert 0 < outcome.sent < 5000
    again = sync.run(lambda _: None)
    assert again.ok
    assert again.sent == 5000 - outcome.sent


def test_a_thread_of_its_own_tells_progress_and_end(
    sync: Sync, journal: Journal, server: ServerProcess
):
    """`start` returns at once; progress and outcome come by callback."""
    sync.pair(server.new_code(server.new_operation()), server.address)
    log(journal, 3)
    ended = threading.Event()
    told: list[str] = []
    outcomes: list[Outcome] = []

    def end(outcome: Outcome) -> None:
        outcomes.append(outcome)
        ended.set()

    sync.start(lambda progress: told.append(speech(progress.phrase)), end)
    assert ended.wait(20)
    assert outcomes[0].ok
    assert "3 sent, 0 received" in told
    assert not sync.running


def test_errors_carry_phrases(sync: Sync):
    """What screens speak is in the error, not in its text alone."""
    with pytest.raises(SyncError) as wrong:
        sync.pair("nonsense")
    assert speech(wrong.value.phrase) in str(wrong.value)
    assert speech(wrong.value.advice) in str(wrong.value)
