"""Recorded syncs of every version, played back against today's server and today's phone."""

from __future__ import annotations

import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest
import recorded
from recorded import FIXTURES, Said, as_then, comparable
from server_process import ServerProcess, running

from fieldapp.journal import backup
from fieldapp.sync import Pairing, Sync
from fieldapp.sync.keeping import PairingFile
from fieldapp.sync.pinned import pinned_session
from fieldapp.wire import limits
from fieldapp.wire.versions import Versions
from syncserver.folder import DataFolder
from syncserver.pairing.certificate import own_certificate

RECORDINGS = sorted(FIXTURES.glob("sync-*"))


def test_the_present_protocol_is_recorded():
    """A new version of the protocol comes with its recording."""
    assert FIXTURES / f"sync-{limits.PROTOCOL}" in RECORDINGS


@pytest.mark.parametrize("folder", RECORDINGS, ids=lambda path: path.name)
def test_todays_server_answers_an_old_phone_as_then(folder: Path, tmp_path: Path):
    """Every question gets the answer that it got when it was recorded."""
    said = recorded.read(folder)
    with running(tmp_path / "server") as server:
        token = _server_holding(server, folder / "server.zip", tmp_path)
        session = pinned_session(server.fingerprint)
        session.headers["Authorization"] = f"Bearer {token}"
        root = f"https://{server.address}/api/{folder.name.removeprefix('sync-')}"
        for one in said:
            answer = session.post(
                root + one.path,
                data=one.question,
                headers={"Content-Type": one.asked_as},
                timeout=20,
            )
            assert answer.headers["Content-Type"] == one.answered_as
            then = comparable(one.answer, one.answered_as)
            assert as_then(comparable(answer.content, one.answered_as), then) == then, one.path
    assert len(said) >= 4


@pytest.mark.parametrize("folder", RECORDINGS, ids=lambda path: path.name)
def test_todays_phone_asks_an_old_server_as_then(folder: Path, tmp_path: Path):
    """Today's phone asks the recorded questions, takes the answers in and says that all is well."""
    said = recorded.read(folder)
    restored = backup.restore(
        folder / "phone.zip", tmp_path / "journal", now_ms=lambda: 1, entropy=bytes
    )
    with restored.journal as journal, played(said, tmp_path) as (address, fingerprint, asked):
        pairing = Pairing(address, fingerprint, "token", "device", "operation", "Home", joined=True)
        PairingFile(tmp_path).write(pairing)
        sync = Sync(tmp_path, journal, "phone", versions=lambda: Versions(6, "2026.1"))
        outcome = sync.run(lambda _: None)
        assert outcome.ok
        assert (outcome.sent, outcome.received, outcome.records) == (3, 3, 6)
        assert outcome.remarks == ()
    assert [path for path, _, _ in asked] == [one.path for one in said]
    for (path, body, kind), one in zip(asked, said, strict=True):
        then = comparable(one.question, one.asked_as)
        assert as_then(comparable(body, kind), then) == then, path


def _server_holding(server: ServerProcess, saved: Path, room: Path) -> str:
    """Let a phone put a saved journal on the server; return the phone's token."""
    folder = room / "putter"
    restored = backup.restore(saved, folder / "journal", now_ms=lambda: 1, entropy=bytes)
    with restored.journal as journal:
        sync = Sync(folder, journal, "putter")
        sync.pair(server.pairing_code, server.address)
        assert sync.run(lambda _: None).ok
        return sync.pairing.token


@contextmanager
def played(said: list[Said], room: Path) -> Iterator[tuple[str, str, list[tuple[str, bytes, str]]]]:
    """Hold an HTTPS server that gives the recorded answers in order, and what it was asked."""
    asked: list[tuple[str, bytes, str]] = []
    answers = iter(said)

    class Player(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            path = self.path.removeprefix(f"/api/{limits.PROTOCOL}")
            asked.append((path, body, self.headers["Content-Type"]))
            answer = next(answers)
            self.send_response(200)
            self.send_header("Content-Type", answer.answered_as)
            self.send_header("Content-Length", str(len(answer.answer)))
            self.end_headers()
            self.wfile.write(answer.answer)

        def log_message(self, *_: object) -> None:
            pass

    files = DataFolder(room / "player").make()
    fingerprint = own_certificate(files, datetime.now(UTC))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(files.certificate, files.key)
    player = HTTPServer(("127.0.0.1", 0), Player)
    player.socket = context.wrap_socket(player.socket, server_side=True)
    threading.Thread(target=player.serve_forever, daemon=True).start()
    try:
        yield f"127.0.0.1:{player.server_address[1]}", fingerprint, asked
    finally:
        player.shutdown()
        player.server_close()
