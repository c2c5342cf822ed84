"""What the server says of itself in the network: the address it shows, anew when that changes."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest
import zeroconf

from fieldapp.device.finding import ZeroconfFinding
from fieldapp.wire.announcement import Announced
from fieldapp.wire.invitation import pin_of
from syncserver.pairing import announcing
from syncserver.pairing.announcing import Announcing

FINGERPRINT = "5a" * 32
LOOPBACK = ZeroconfFinding(["127.0.0.1"])


def heard(fits: Callable[[Announced], bool], seconds: float = 10) -> Announced | None:
    """Return the first announcement that fits, None where none comes."""
    looking = LOOPBACK.look(seconds)
    try:
        return next((one for one in looking if fits(one)), None)
    finally:
        looking.close()


@pytest.fixture
def at(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The address that the machine has, last; looked at ten times a second."""
    addresses = ["127.0.0.1"]
    monkeypatch.setattr(announcing, "reachable", lambda host: addresses[-1])
    monkeypatch.setattr(announcing, "_LOOK_AGAIN_SECONDS", 0.1)
    return addresses


def test_another_address_is_announced_when_the_machine_has_one(at: list[str]):
    """A new lease of the router's: phones hear the new address, and the old one no more."""
    told: list[str] = []
    with Announcing("0.0.0.0", 8463, FINGERPRINT, "shed.home", told.append):
        first = heard(lambda one: one.pin == pin_of(FINGERPRINT))
        if first is None and not told:
            pytest.skip("this machine delivers no multicast on its loopback interface")
        assert first.addresses == ("127.0.0.1:8463",)
        assert first.name == "Apiary Rounds on shed home"
        at.append("127.0.0.2")
        assert heard(lambda one: one.addresses == ("127.0.0.2:8463",), 20)
    assert heard(lambda one: one.pin == pin_of(FINGERPRINT), 1.5) is None
    assert told == []


def test_a_network_that_cannot_be_used_is_told_once_and_stops_nothing(
    at: list[str], monkeypatch: pytest.MonkeyPatch
):
    """Whatever goes wrong with it, the server starts, ends and serves."""

    def broken(**_: object) -> None:
        raise OSError("no such device")

    monkeypatch.setattr(zeroconf, "Zeroconf", broken)
    told: list[str] = []
    with Announcing("0.0.0.0", 8463, FINGERPRINT, "shed", told.append):
        begun = time.monotonic()
        while len(told) < 1 and time.monotonic() < begun + 5:
            time.sleep(0.02)
        time.sleep(0.5)
    assert len(told) == 1
    assert "no such device" in told[0]
    assert "pair them by its address" in told[0]


def test_starting_does_not_wait_and_ending_does_not_hang(at: list[str]):
    """Both take no longer than a person would notice, whatever the network does."""
    begun = time.monotonic()
    with Announcing("127.0.0.1", 8463, FINGERPRINT, "shed", lambda _: None):
        assert time.monotonic() - begun < 0.5
    assert time.monotonic() - begun < 6
