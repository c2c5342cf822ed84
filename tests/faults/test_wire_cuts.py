"""Bad wifi between a real phone and a real server: cut anywhere, nothing is lost or invented."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from random import Random

import pytest
from cut_proxy import Fault, Kind, between
from phone_process import PhoneProcess, phone
from server_process import ServerProcess, running

_KINDS: tuple[Kind, ...] = ("cut", "reset", "truncate", "corrupt", "duplicate", "delay")
_SECONDS = 10
_LONG_SYNCS = 1000


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


@pytest.fixture
def phones(server: ServerProcess, tmp_path: Path) -> Iterator[list[PhoneProcess]]:
    """Two phones of one fresh operation."""
    operation = server.new_operation()
    with ExitStack() as stack:
        both = [stack.enter_context(phone(tmp_path / name)) for name in ("keeper", "helper")]
        for process in both:
            assert process.do("pair", code=server.new_code(operation), address=server.address)["ok"]
        yield both


def test_bad_wifi_loses_and_invents_nothing(
    server: ServerProcess, phones: list[PhoneProcess], long: bool
):
    """Syncs through cuts, resets, truncation, corruption and delay at random bytes.

    After each, every record that a phone had confirmed is still on it; at the end one clean
    sync makes both phones and the server equal, with all that was logged and nothing else. Of
    photos, too: each is on both phones in the end, byte for byte.
    """
    chance = Random(20260801)
    logged: list[set[str]] = [set(), set()]
    photos: list[str] = []
    harmed = ok = syncs = 0
    ends = time.monotonic() + _SECONDS

    def plan(_: int) -> Fault:
        if chance.random() < 0.3:
            return Fault()
        at = int(2 ** chance.uniform(0, 15))
        return Fault(chance.choice(_KINDS), chance.random() < 0.5, at)

    with between(server.port, plan) as proxy:
        for process in phones:
            process.do("move", address=proxy.address)
        while syncs < _LONG_SYNCS if long else time.monotonic() < ends:
            which = syncs % 2
            logged[which].update(phones[which].do("log", count=chance.randrange(4), hive=which))
            if syncs % 3 == 0:
                size = int(2 ** chance.uniform(4, 20))
                ids, digest = phones[which].do("take", size=size, seed=syncs)
                logged[which].update(ids)
                photos.append(digest)
            told = phones[which].do("sync")
            syncs += 1
            ok += told["ok"]
            harmed += not told["ok"]
            assert told["ok"] or told["advice"], told
    for process in phones:
        process.do("move", address=server.address)
    for which in (0, 1, 0):
        assert phones[which].do("sync")["ok"]
    everything = sorted(logged[0] | logged[1])
    assert phones[0].do("ids") == phones[1].do("ids") == everything
    assert phones[0].do("vector") == phones[1].do("vector")
    assert phones[0].do("photos") == phones[1].do("photos") == sorted(photos)
    assert "Traceback" not in server.said
    # Both kinds happened, or this test has tested nothing.
    assert ok > 3
    assert harmed > 3
    assert len(photos) > 1


@pytest.mark.parametrize("way", [0, 1], ids=["question", "answer"])
def test_each_request_of_a_sync_cut_once(
    server: ServerProcess, phones: list[PhoneProcess], way: int
):
    """The end of one question or answer is lost: the sync goes on by itself, or says no server.

    Each request has a connection of its own here. A clean sync tells how many bytes each
    takes; then each is cut once shortly before its end.
    """
    keeper, helper = phones
    cut_at: dict[int, int] = {}

    def plan(number: int) -> Fault:
        return Fault("cut", way == 0, cut_at[number]) if number in cut_at else Fault()

    def both_log() -> None:
        logged.extend(helper.do("log", count=3, hive=2))
        assert helper.do("sync")["ok"]
        logged.extend(keeper.do("log", count=3))

    logged: list[str] = []
    keeper.do("one_request_a_connection")
    both_log()
    with between(server.port, plan) as proxy:
        keeper.do("move", address=proxy.address)
        assert keeper.do("sync")["ok"]
        sizes = [carried[way] for carried in proxy.carried]
    assert len(sizes) == 4  # status, offer, push, pull
    for number, size in enumerate(sizes):
        both_log()
        cut_at = {number: size - 60}
        with between(server.port, plan) as proxy:
            keeper.do("move", address=proxy.address)
            told = keeper.do("sync")
            assert proxy.connections > number
        if number == 0:
            assert "does not answer" in told["words"]
            continue
        assert told["ok"], (number, told)
        assert keeper.do("ids") == sorted(logged)
