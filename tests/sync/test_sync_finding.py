"""The server is found where it went, by real announcements on loopback; only the pin decides."""

from __future__ import annotations

import secrets
import socket
import ssl
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from phone_process import phone
from server_process import ServerProcess, running
from zeroconf import ServiceInfo, Zeroconf

from fieldapp.device.finding import Heard, ZeroconfFinding
from fieldapp.journal.store import Journal
from fieldapp.sync import Sync, SyncError
from fieldapp.sync.finding import seek
from fieldapp.wire import announcement
from fieldapp.wire.announcement import Announced
from fieldapp.wire.invitation import pin_of
from fieldapp.words.speech import Speech
from syncserver.folder import DataFolder
from syncserver.pairing.certificate import own_certificate

LOOPBACK = ZeroconfFinding(["127.0.0.1"])
SERVICE = f"{announcement.SERVICE}.local."
speech = Speech()


def heard_on_loopback() -> bool:
    """Whether this machine lets a program hear on loopback what another says to all."""
    sender = Zeroconf(interfaces=["127.0.0.1"])
    try:
        info = ServiceInfo(
            SERVICE, f"trial.{SERVICE}", port=9, parsed_addresses=["127.0.0.1"], server="t.local."
        )
        sender.register_service(info)
        return any(one.name == "trial" for one in LOOPBACK.look(3))
    except OSError:
        return False
    finally:
        sender.close()


@pytest.fixture(scope="module", autouse=True)
def multicast() -> None:
    """These tests need multicast on loopback."""
    if not heard_on_loopback():
        pytest.skip("this machine delivers no multicast on its loopback interface")


@contextmanager
def announcing(folder: Path) -> Iterator[ServerProcess]:
    """Hold a server that announces itself, once it is heard."""
    with running(folder, announce=True) as server:
        pin = pin_of(server.fingerprint)
        assert any(one.pin == pin for one in until(lambda one: one.pin == pin)), server.said
        yield server


def until(fits) -> Iterator[Announced]:
    """Listen for up to ten seconds, until what is heard fits."""
    for one in LOOPBACK.look(10):
        yield one
        if fits(one):
            return


@contextmanager
def impostor(name: str, pin: str, room: Path) -> Iterator[tuple[int, list[bytes]]]:
    """Hold a machine that says it is the server; yield its port and what it was told."""
    files = DataFolder(room).make()
    own_certificate(files, datetime.now(UTC))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(files.certificate, files.key)
    listener = socket.create_server(("127.0.0.1", 0))
    told: list[bytes] = []

    def serve() -> None:
        while True:
            try:
                plain, _ = listener.accept()
            except OSError:
                return
            try:
                with context.wrap_socket(plain, server_side=True) as secure:
                    told.append(secure.recv(1000))
            except OSError:
                pass

    threading.Thread(target=serve, daemon=True).start()
    port = listener.getsockname()[1]
    sender = Zeroconf(interfaces=["127.0.0.1"])
    info = ServiceInfo(
        SERVICE,
        f"{name}.{SERVICE}",
        port=port,
        parsed_addresses=["127.0.0.1"],
        properties={"txtvers": "1", "pin": pin, "protocols": "1"},
        server="impostor.local.",
    )
    # As one that wants to take a name over does: without asking who has it.
    sender.register_service(info, cooperating_responders=True)
    try:
        # A busy machine may take longer than one listening to be heard.
        heard = (one for _ in range(5) for one in LOOPBACK.look(2))
        assert any(one.addresses == (f"127.0.0.1:{port}",) for one in heard)
        yield port, told
    finally:
        sender.close()
        listener.close()


def test_what_is_announced_says_where_and_which(tmp_path: Path):
    """Name, address, the certificate's beginning, the protocol; nothing of an operation."""
    with announcing(tmp_path / "home") as server:
        *_, one = until(lambda it: it.pin == pin_of(server.fingerprint))
        assert one.addresses == (server.address,)
        assert one.protocols == (1,)
        assert one.name.startswith("Apiary Rounds on ")
        assert "Phones cannot find" not in server.said


def test_a_server_that_ends_says_so(tmp_path: Path):
    """Stopped in order it is taken back, and nobody hears of it any more."""
    with announcing(tmp_path / "home") as server:
        pin = pin_of(server.fingerprint)
        assert server.stop() == 0
    assert not any(one.pin == pin for one in LOOPBACK.look(2))


def test_a_phone_pairs_by_the_code_alone_and_finds_the_server_where_it_went(tmp_path: Path):
    """No address is typed; at another port the sync goes on, and the next one asks there first."""
    with phone(tmp_path / "phone") as keeper:
        keeper.do("listen", interface="127.0.0.1")
        with announcing(tmp_path / "home") as server:
            assert keeper.do("pair", code=server.pairing_code)["ok"]
            before = server.port
            keeper.do("log", count=3)
            assert keeper.do("sync")["ok"]
            assert server.stop() == 0
        keeper.do("log", count=4)
        with taken(before), announcing(tmp_path / "home") as server:
            assert server.port != before
            told = keeper.do("sync")
            assert told["ok"], told
            assert told["sent"] == 4
            assert told["remarks"] == [f"The server was found at a new address: {server.address}."]
            again = keeper.do("sync")
            assert again["ok"]
            assert again["remarks"] == []
            assert again["traffic"]["requests"] == 1


def test_one_that_only_says_it_is_the_server_is_refused_in_words(tmp_path: Path):
    """The same name and hint, another certificate: told nothing, and the address is not kept."""
    with phone(tmp_path / "phone") as keeper:
        keeper.do("listen", interface="127.0.0.1")
        with announcing(tmp_path / "home") as server:
            keeper.do("pair", code=server.pairing_code)
            pin = pin_of(server.fingerprint)
            name = next(one.name for one in LOOPBACK.look(5) if one.pin == pin)
            known = keeper.do("where")
            assert server.stop() == 0
        keeper.do("log", count=2)
        with impostor(name, pin, tmp_path / "impostor") as (port, told):
            outcome = keeper.do("sync")
            assert not outcome["ok"]
            assert f"at 127.0.0.1:{port}, is another machine" in outcome["words"]
            assert "Nothing was sent to it" in outcome["advice"]
            assert keeper.do("where") == known
            # The real one comes back elsewhere, while the other still talks.
            with announcing(tmp_path / "home") as server:
                outcome = keeper.do("sync")
                assert outcome["ok"], outcome
                assert keeper.do("where") == server.address
            assert told
            assert not any(told), "something was sent before the certificate was looked at"


def test_pairing_tells_the_code_to_no_impostor(tmp_path: Path):
    """With the code's own hint announced by another machine: words, and nothing sent."""
    with running(tmp_path / "home") as server:
        pin = pin_of(server.fingerprint)
        with (
            impostor("Apiary Rounds on paper", pin, tmp_path / "impostor") as (port, told),
            journal(tmp_path / "phone") as held,
        ):
            sync = Sync(tmp_path / "phone", held, "phone", finding=LOOPBACK)
            with pytest.raises(SyncError, match=f"127.0.0.1:{port}, is another machine"):
                sync.pair(server.pairing_code)
            assert told
            assert not any(told)
            assert sync.pairing is None


def test_nobody_there_is_told_as_that(tmp_path: Path):
    """No announcement fits: the words name the known address, and what to look at."""
    with running(tmp_path / "home") as server, journal(tmp_path / "phone") as held:
        sync = Sync(tmp_path / "phone", held, "phone", finding=LOOPBACK)
        with pytest.raises(SyncError, match="No server in this network fits the code"):
            sync.pair(server.pairing_code)
        sync.pair(server.pairing_code, server.address)
        address = server.address
        server.kill()
        said: list[str] = []
        outcome = sync.run(lambda progress: said.append(speech(progress.phrase)))
        assert not outcome.ok
        assert speech(outcome.phrase) == f"The home server at {address} does not answer."
        assert "Looking for the server in this network" in said
        assert sync.pairing.address == address


def test_another_machine_at_the_old_address_is_not_the_end(tmp_path: Path):
    """The address was given to another machine meanwhile; the server is found beside it."""
    with journal(tmp_path / "phone") as held, announcing(tmp_path / "home") as server:
        sync = Sync(tmp_path / "phone", held, "phone", finding=LOOPBACK)
        sync.pair(server.pairing_code)
        with running(tmp_path / "other") as other:
            sync.moved(other.address)
            outcome = sync.run(lambda _: None)
        assert outcome.ok, speech(outcome.phrase)
        assert sync.pairing.address == server.address


def test_a_neighbours_server_is_no_impostor(tmp_path: Path):
    """It announces what it is: it is not asked for its certificate, and not named to the keeper."""
    knocked: list[bytes] = []
    with journal(tmp_path / "phone") as held, running(tmp_path / "home") as server:
        sync = Sync(tmp_path / "phone", held, "phone", finding=LOOPBACK)
        sync.pair(server.pairing_code, server.address)
        address = server.address
        server.kill()
        with impostor("The neighbour's", "Z" * 16, tmp_path / "neighbour") as (_, told):
            outcome = sync.run(lambda _: None)
            knocked = list(told)
    assert speech(outcome.phrase) == f"The home server at {address} does not answer."
    assert knocked == []


def test_a_flood_of_announcements_ends():
    """So many are looked at and no more; what cannot be reached or was seen is left out."""
    flood = [Announced(f"{number}", (f"127.0.0.1:{number + 1}",)) for number in range(50)]

    class Flood:
        def look(self, seconds: float) -> Iterator[Announced]:
            heard = Heard(seconds)
            for one in [Announced("nowhere", ()), flood[0], *flood]:
                heard.put(one)
            return iter(heard)

    assert list(Flood().look(5)) == flood[:20]
    begun = time.monotonic()
    assert seek(Flood(), "0" * 16, lambda _: True).address == ""
    assert time.monotonic() - begun < 20


@contextmanager
def journal(folder: Path) -> Iterator[Journal]:
    with Journal.open(folder / "j", now_ms=lambda: 1, entropy=secrets.token_bytes) as held:
        yield held


@contextmanager
def taken(port: int) -> Iterator[None]:
    """Hold a port, so that nobody else gets it; who connects is not answered."""
    holder = socket.socket()
    holder.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    holder.bind(("127.0.0.1", port))
    try:
        yield
    finally:
        holder.close()


def test_announced_text_is_bounded_and_read_with_care():
    """Whatever a stranger puts into an announcement, what is left is short and usable."""
    odd = announcement.read(
        "a\nb\x1b[31m" + "x" * 300,
        ["nonsense", "fe80::1", "0.0.0.0", "224.0.0.1", "fd00::1", "10.0.0.9"],
        70000,
        {b"PIN": b"\xff\xfe", b"protocols": b"1,x,\xc2\xb2,99999,2", b"flag": None},
    )
    assert odd.addresses == ()
    assert odd.protocols == (1, 2)
    assert odd.pin == ""
    assert len(odd.name) == 40
    assert odd.name.isprintable()
    usable = announcement.read("n", ["fd00::1", "10.0.0.9", "fe80::1"], 8463, {b"pin": b"0" * 16})
    assert usable == Announced("n", ("10.0.0.9:8463", "[fd00::1]:8463"), "0" * 16, ())
    assert len(announcement.instance_name("ž" * 90).encode()) <= 63
