"""The front desk: codes, tokens, passwords and sessions."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from pathlib import Path

import pytest

from syncserver.pairing.desk import (
    CODE_SECONDS,
    GUESSES,
    SESSION_SECONDS,
    CodeRefused,
    Desk,
    PasswordRefused,
    page_code,
)
from syncserver.store import Operation
from syncserver.store.sqlite import SqliteStore

HOME = "a" * 32


class Hands:
    """A desk whose clock and chance the test holds."""

    def __init__(self, path: Path) -> None:
        self.now = 1_000_000
        self._numbers = itertools.count(1)
        self.store = SqliteStore(path)
        self.store.add_operation(Operation(HOME, "Home", self.now))
        self.desk = Desk(self.store, lambda: self.now, self._entropy)

    def _entropy(self, size: int) -> bytes:
        return next(self._numbers).to_bytes(size, "big")


@pytest.fixture
def hands(tmp_path: Path) -> Iterator[Hands]:
    hands = Hands(tmp_path / "server.sqlite")
    yield hands
    hands.store.close()


def test_a_code_makes_a_device_whose_token_opens(hands: Hands):
    """The token finds the device and its operation again."""
    paired = hands.desk.pair(hands.desk.new_code(HOME, "device"), "helper's phone")
    assert hands.desk.device(paired.token) == paired.device
    assert paired.device.name == "helper's phone"
    assert paired.operation.id == HOME


def test_a_code_is_used_once(hands: Hands):
    """The second phone is told that the code was used."""
    code = hands.desk.new_code(HOME, "device")
    hands.desk.pair(code, "first")
    with pytest.raises(CodeRefused) as refused:
        hands.desk.pair(code, "second")
    assert refused.value.why == "used"
    assert len(hands.store.devices()) == 1


def test_a_code_lives_a_quarter_of_an_hour(hands: Hands):
    """It opens in its last second and not after."""
    first, second = hands.desk.new_code(HOME, "device"), hands.desk.new_code(HOME, "device")
    hands.now += CODE_SECONDS - 1
    hands.desk.pair(first, "in time")
    hands.now += 1
    with pytest.raises(CodeRefused) as refused:
        hands.desk.pair(second, "late")
    assert refused.value.why == "late"


def test_guessing_kills_the_code(hands: Hands):
    """Ten wrong guesses, and the right code opens nothing."""
    code = hands.desk.new_code(HOME, "device")
    for _ in range(GUESSES):
        with pytest.raises(CodeRefused):
            hands.desk.pair("ZZZZZZZ", "guess")
    with pytest.raises(CodeRefused) as refused:
        hands.desk.pair(code, "right")
    assert refused.value.why == "late"


def test_no_secret_stands_in_the_store(hands: Hands, tmp_path: Path):
    """Code, token, session and password are found nowhere in the file."""
    code = hands.desk.new_code(HOME, "device")
    token = hands.desk.pair(code, "phone").token
    page = hands.desk.new_code(HOME, "page")
    session = hands.desk.first_password(page_code(page), "three small words")
    hands.store.close()
    stored = (tmp_path / "server.sqlite").read_bytes()
    for secret in (code, token, page, session, "three small words"):
        assert secret.encode() not in stored
    assert b"$argon2id$" in stored


def test_a_page_password_is_set_by_a_code_and_opens(hands: Hands):
    """The code opens a session and so does the password from then on."""
    page = page_code(hands.desk.new_code(HOME, "page"))
    first = hands.desk.session(hands.desk.first_password(page, "three small words"))
    again = hands.desk.session(hands.desk.log_in("Home", "three small words"))
    assert first is not None
    assert again is not None
    assert again.operation == HOME


def test_a_short_password_does_not_use_the_code_up(hands: Hands):
    """The keeper tries again with the same code."""
    page = page_code(hands.desk.new_code(HOME, "page"))
    with pytest.raises(PasswordRefused, match="at least 8"):
        hands.desk.first_password(page, "short")
    assert hands.desk.first_password(page, "long enough")


@pytest.mark.parametrize(
    ("name", "password"), [("Home", "wrong"), ("Nowhere", "three small words"), ("Home", "")]
)
def test_a_wrong_log_in_says_the_same_whatever_was_wrong(hands: Hands, name: str, password: str):
    """Name or password: the answer does not tell which."""
    page = page_code(hands.desk.new_code(HOME, "page"))
    hands.desk.first_password(page, "three small words")
    with pytest.raises(PasswordRefused, match="do not fit together"):
        hands.desk.log_in(name, password)


def test_without_a_password_nobody_logs_in(hands: Hands):
    """An operation whose password was never set has no password, not an empty one."""
    with pytest.raises(PasswordRefused):
        hands.desk.log_in("Home", "")


def test_a_session_ends_by_time_and_by_hand(hands: Hands):
    """After a month it is gone, and after a log-out at once."""
    hands.desk.first_password(page_code(hands.desk.new_code(HOME, "page")), "three small words")
    left, kept = (hands.desk.log_in("Home", "three small words") for _ in range(2))
    hands.desk.log_out(left)
    assert hands.desk.session(left) is None
    assert hands.desk.session(kept) is not None
    hands.now += SESSION_SECONDS
    assert hands.desk.session(kept) is None
