"""What every backend of the store must do. A backend's tests inherit `StoreContract`."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest

from syncserver.store import Device, Operation, Session, Store
from syncserver.store.errors import NameTaken

HOME = Operation("a" * 32, "Home", 1000)
OTHER = Operation("b" * 32, "Hill", 1001)
PHONE = Device("c" * 32, HOME.id, "keeper's phone", 1002, None, None)


class StoreContract:
    """Inherit this and give a fixture `store` that returns an empty store."""

    @pytest.fixture
    def home(self, store: Store) -> Store:
        store.add_operation(HOME)
        store.add_operation(OTHER)
        return store

    def test_a_fresh_store_is_empty(self, store: Store):
        """No operation, device or session is there that nobody added."""
        assert store.operations() == []
        assert store.devices() == []
        assert store.operation(HOME.id) is None
        assert store.device(b"t" * 32) is None
        assert store.session(b"s" * 32, 0) is None

    def test_operations_come_back_oldest_first(self, home: Store):
        """What was added is found again, whole and in order."""
        assert home.operations() == [HOME, OTHER]
        assert home.operation(OTHER.id) == OTHER

    def test_of_one_second_the_first_added_is_the_oldest(self, store: Store):
        """Order does not hang on ids, which are random."""
        both = [Operation("b" * 32, "First", 1000), Operation("a" * 32, "Second", 1000)]
        for operation in both:
            store.add_operation(operation)
        assert store.operations() == both

    def test_a_name_is_taken_once(self, home: Store):
        """A second operation of one name is an error that says so and changes nothing."""
        with pytest.raises(NameTaken, match="Hill"):
            home.add_operation(Operation("d" * 32, "Hill", 9))
        assert home.operations() == [HOME, OTHER]

    def test_by_what_a_phone_computes_is_kept(self, home: Store):
        """Unknown until it says so; then what it said last, and no other phone's."""
        home.add_device(PHONE, b"t" * 32)
        home.add_device(PHONE._replace(id="d" * 32), b"u" * 32)
        assert home.device(b"t" * 32) == PHONE
        home.computes(PHONE.id, 5, "2026.1")
        home.computes(PHONE.id, 6, "2026.2")
        assert home.device(b"t" * 32) == PHONE._replace(rules=6, library="2026.2")
        assert home.device(b"u" * 32).rules is None

    def test_a_code_opens_once(self, home: Store):
        """The second use is told from a wrong code."""
        home.add_code(b"1" * 32, HOME.id, "device", 2000)
        assert home.redeem(b"1" * 32, "device", 1500, 10) == (HOME.id, "")
        assert home.redeem(b"1" * 32, "device", 1500, 10) == (None, "used")

    def test_a_code_opens_its_own_operation(self, home: Store):
        """Codes of several operations stand side by side."""
        home.add_code(b"1" * 32, HOME.id, "device", 2000)
        home.add_code(b"2" * 32, OTHER.id, "device", 2000)
        assert home.redeem(b"2" * 32, "device", 1500, 10).operation == OTHER.id
        assert home.redeem(b"1" * 32, "device", 1500, 10).operation == HOME.id

    def test_a_code_expires(self, home: Store):
        """It opens in the second before it expires and not in the second that it expires."""
        home.add_code(b"1" * 32, HOME.id, "device", 2000)
        assert home.redeem(b"1" * 32, "device", 2000, 10) == (None, "late")
        assert home.redeem(b"1" * 32, "device", 1999, 10).operation == HOME.id

    def test_a_code_is_for_one_purpose(self, home: Store):
        """A code for a phone opens no page, and a try does not use it up."""
        home.add_code(b"1" * 32, HOME.id, "device", 2000)
        assert home.redeem(b"1" * 32, "page", 1500, 10) == (None, "wrong")
        assert home.redeem(b"1" * 32, "device", 1500, 10).operation == HOME.id

    def test_wrong_guesses_kill_a_code(self, home: Store):
        """After so many wrong guesses the right one opens nothing."""
        home.add_code(b"1" * 32, HOME.id, "device", 2000)
        for guess in range(3):
            assert home.redeem(bytes([guess]) * 32, "device", 1500, 3) == (None, "wrong")
        assert home.redeem(b"1" * 32, "device", 1500, 3) == (None, "late")

    def test_guesses_before_a_code_do_not_count_against_it(self, home: Store):
        """A code made after the wrong guesses is fresh."""
        for guess in range(3):
            home.redeem(bytes([guess]) * 32, "device", 1500, 3)
        home.add_code(b"1" * 32, HOME.id, "device", 2000)
        assert home.redeem(b"1" * 32, "device", 1500, 3).operation == HOME.id

    def test_of_many_tries_at_once_one_opens(self, home: Store):
        """A code used from many threads at one instant opens once."""
        home.add_code(b"1" * 32, HOME.id, "device", 2000)
        with ThreadPoolExecutor(8) as pool:
            states = list(pool.map(lambda _: home.redeem(b"1" * 32, "device", 1500, 10), range(32)))
        assert [state.why for state in states].count("") == 1
        assert [state.why for state in states].count("used") == 31

    def test_a_device_is_known_by_its_token(self, home: Store):
        """The digest of the token finds it; another digest finds nothing."""
        home.add_device(PHONE, b"t" * 32)
        assert home.device(b"t" * 32) == PHONE
        assert home.device(b"u" * 32) is None
        assert home.devices() == [PHONE]

    def test_a_device_is_revoked_once(self, home: Store):
        """It stays listed with the time of it, so that its phone can be told."""
        home.add_device(PHONE, b"t" * 32)
        assert home.revoke(PHONE.id, 3000)
        assert not home.revoke(PHONE.id, 4000)
        assert not home.revoke("no such device", 4000)
        assert home.device(b"t" * 32) == PHONE._replace(revoked=3000)

    def test_a_device_was_last_seen(self, home: Store):
        """The last time counts."""
        home.add_device(PHONE, b"t" * 32)
        home.seen(PHONE.id, 3000)
        home.seen(PHONE.id, 3005)
        assert home.devices() == [PHONE._replace(seen=3005)]

    def test_a_password_belongs_to_one_operation(self, home: Store):
        """None is set at first, and setting one leaves the other operation without."""
        assert home.password(HOME.id) is None
        home.set_password(HOME.id, "$argon2id$x")
        assert home.password(HOME.id) == "$argon2id$x"
        assert home.password(OTHER.id) is None

    def test_a_session_expires(self, home: Store):
        """It is there until the second it expires."""
        home.add_session(b"s" * 32, Session(HOME.id, 5000))
        assert home.session(b"s" * 32, 4999) == Session(HOME.id, 5000)
        assert home.session(b"s" * 32, 5000) is None

    def test_a_session_can_be_ended(self, home: Store):
        """An ended one is gone; ending it again is no error."""
        home.add_session(b"s" * 32, Session(HOME.id, 5000))
        home.end_session(b"s" * 32)
        home.end_session(b"s" * 32)
        assert home.session(b"s" * 32, 4000) is None

    def test_a_new_password_ends_the_sessions_of_its_operation(self, home: Store):
        """Whoever was logged in with the old one is logged out; others stay."""
        home.add_session(b"s" * 32, Session(HOME.id, 5000))
        home.add_session(b"r" * 32, Session(OTHER.id, 5000))
        home.set_password(HOME.id, "$argon2id$y")
        assert home.session(b"s" * 32, 4000) is None
        assert home.session(b"r" * 32, 4000) == Session(OTHER.id, 5000)
