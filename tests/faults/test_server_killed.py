"""The server killed while phones push: what it had acknowledged is there after its restart."""

from __future__ import annotations

import os
import signal
import threading
import time
from pathlib import Path
from random import Random

from phone_process import phone
from server_process import running

_SHORT, _LONG = 3, 200
_EACH = 1000


def test_kill_the_server_during_a_push(tmp_path: Path, long: bool):
    """Killed at a random moment of a push, restarted, synced: nothing is lost or doubled."""
    chance = Random(7)
    kills = _LONG if long else _SHORT
    port = 0
    logged: list[str] = []
    with phone(tmp_path / "phone") as keeper:
        for kill in range(kills):
            with running(tmp_path / "server", port) as server:
                port = server.port
                if not kill:
                    assert keeper.do("pair", code=server.pairing_code, address=server.address)["ok"]
                keeper.do("fill", count=_EACH)
                keeper.begin("sync")
                timer = threading.Timer(
                    chance.uniform(0.005, 0.15), os.kill, (server.pid, signal.SIGKILL)
                )
                timer.start()
                told = keeper.answer()
                timer.join()
                assert told["ok"] or told["advice"], told
        with running(tmp_path / "server", port) as server:
            told = keeper.do("sync")
            assert told["ok"], told
            logged = keeper.do("ids")
            assert len(logged) == _EACH * kills
            with phone(tmp_path / "fresh") as fresh:
                code, address = server.new_code(), server.address
                assert fresh.do("pair", code=code, address=address)["ok"]
                assert fresh.do("sync")["ok"]
                assert fresh.do("ids") == logged


def test_kill_the_phone_during_a_sync(tmp_path: Path, long: bool):
    """A phone killed at a random moment of a sync keeps every confirmed tap, and syncs again."""
    chance = Random(8)
    with running(tmp_path / "server") as server:
        confirmed: list[str] = []
        for kill in range(_LONG if long else _SHORT):
            with phone(tmp_path / "phone") as keeper:
                if not kill:
                    assert keeper.do("pair", code=server.pairing_code, address=server.address)["ok"]
                assert set(confirmed) <= set(keeper.do("ids"))
                confirmed += keeper.do("log", count=20)
                keeper.begin("sync")
                time.sleep(chance.uniform(0.0, 0.2))
        with phone(tmp_path / "phone") as keeper:
            assert keeper.do("sync")["ok"]
            assert keeper.do("ids") == sorted(confirmed)
