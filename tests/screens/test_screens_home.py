"""Pairing and syncing by touch, with a real server process over HTTPS."""

from __future__ import annotations

import time

import pytest
from server_process import running

from fieldapp.device.finding import Heard, ZeroconfFinding
from fieldapp.journal import chain, refusals
from fieldapp.journal.batches import Batch
from fieldapp.journal.holes import verify
from fieldapp.journal.receiving import receive
from fieldapp.wire.announcement import Announced


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


def wait_for(app, words, seconds=20):
    """Step frames until `words` are on the screen."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if app.hand.reads(words):
            return
        app.hand.frames(1)
    raise AssertionError(f"{words!r} did not come; on the screen: {app.hand.texts()}")


def pair(app, code, address):
    wait_for(app, "No server is heard")
    app.hand.tap("Type the address")
    app.hand.tap_entry(0)
    app.hand.type(code)
    app.hand.tap_entry(1)
    app.hand.type(address)
    app.hand.tap("Pair", exactly=True)


def fresh_code(server):
    return server.new_code(server.new_operation())


def test_a_phone_pairs_and_syncs_and_says_that_both_hold_the_same(keeper, server):
    """By the code and address that the server shows; the counts are said."""
    keeper.hand.tap("Home")
    keeper.hand.tap("Pair with a server")
    pair(keeper, fresh_code(server), server.address)
    wait_for(keeper, "Paired with")
    keeper.hand.tap("Sync now")
    wait_for(keeper, "Both sides hold the same")
    assert keeper.hand.reads(f"{len(keeper.records)} records")
    # The test's clock stands on another day than the server's: that is asked about, once.
    keeper.hand.find("1 question to answer")
    keeper.hand.tap("1 question to answer")
    keeper.hand.tap("This phone's clock was")
    keeper.hand.tap("This phone's clock was right")
    keeper.hand.tap("Back")
    keeper.hand.tap("Sync now")
    wait_for(keeper, "1 sent")
    assert not keeper.hand.has_key("1 question to answer")


def test_a_server_that_is_heard_is_chosen_and_the_code_typed(open_app, tmp_path):
    """A real announcement on loopback: no address is typed; it is the code that lets in."""
    app = open_app(finding=ZeroconfFinding(["127.0.0.1"]))
    app.set_up("Ferry Lane", 2)
    app.hand.tap("Home")
    with running(tmp_path / "server", announce=True) as server:
        app.hand.tap("Pair with a server")
        wait_for(app, server.address)
        app.hand.tap(server.address)
        assert app.hand.reads("Apiary Rounds on")
        app.hand.tap_entry(0)
        app.hand.type(server.pairing_code)
        app.hand.tap("Pair", exactly=True)
        wait_for(app, "Paired with")
        app.hand.tap("Sync now")
        wait_for(app, "Both sides hold the same")


def test_what_is_heard_is_a_hint_and_nothing_heard_is_said(open_app):
    """Another version is told as that; nobody there: what to look at, and to listen again."""

    class Two:
        def __init__(self):
            self.there = []

        def look(self, seconds):
            heard = Heard(0.3)
            for one in self.there:
                heard.put(one)
            return iter(heard)

    finding = Two()
    app = open_app(finding=finding)
    app.set_up("Ferry Lane", 2)
    app.hand.tap("Home")
    app.hand.tap("Pair with a server")
    wait_for(app, "No server is heard in this network.")
    finding.there = [
        Announced("Apiary Rounds on shed", ("192.168.1.20:8463",), "0" * 16, (1,)),
        Announced("Apiary Rounds on attic", ("192.168.1.21:8463",), "1" * 16, (9,)),
    ]
    app.hand.tap("Listen again")
    wait_for(app, "192.168.1.21:8463. Speaks another version")
    assert app.hand.reads("Apiary Rounds on shed")
    assert not app.hand.has_key("Listen again")
    app.hand.tap("Back")
    assert app.page == "home"


def test_a_wrong_code_says_what_to_do(keeper, server):
    """One symbol wrong: no traceback, no pairing, and the way to go on."""
    keeper.hand.tap("Home")
    keeper.hand.tap("Pair with a server")
    pair(keeper, "AAAA-AAAA-AAAA-AAAA-AAAA-AAAA", server.address)
    wait_for(keeper, "code")
    assert keeper.hand.has_key("Pair with a server")
    assert keeper.kit.home.server is None


def test_a_server_that_is_not_there_says_so(keeper, server):
    """The records stay, and the page says what to look at."""
    keeper.hand.tap("Home")
    keeper.hand.tap("Pair with a server")
    pair(keeper, fresh_code(server), "127.0.0.1:9")
    wait_for(keeper, "127.0.0.1:9")
    assert keeper.hand.has_key("Pair with a server")


def test_a_second_phone_gets_everything_and_asks_whose_it_is(keeper, open_app, server, tmp_path):
    """From the first start: pair, sync, choose the keeper; then the first page is right."""
    code = fresh_code(server)
    keeper.hand.tap("Home")
    keeper.hand.tap("Pair with a server")
    pair(keeper, code, server.address)
    wait_for(keeper, "Paired with")
    keeper.hand.tap("Sync now")
    wait_for(keeper, "Both sides hold the same")
    records = len(keeper.records)
    operation = keeper.kit.home.server.partition(",")[0]
    keeper.close()

    keeper.folder = tmp_path / "second phone"
    keeper.open()
    keeper.hand.tap("There is a server")
    pair(keeper, server.new_code(operation), server.address)
    wait_for(keeper, "Paired with")
    keeper.hand.tap("Sync now")
    wait_for(keeper, "Both sides hold the same")
    keeper.hand.tap("Back")
    keeper.hand.tap("Keeper")
    assert keeper.page == "due"
    assert keeper.hand.has_key("Round at Ferry Lane")
    assert len(keeper.records) == records


def test_two_sides_with_records_are_shown_before_they_meet(keeper, open_app, server, tmp_path):
    """Apiaries of both stand side by side; nothing is joined without the keeper's word."""
    keeper.hand.tap("Home")
    keeper.hand.tap("Pair with a server")
    operation = server.new_operation()
    pair(keeper, server.new_code(operation), server.address)
    wait_for(keeper, "Paired with")
    keeper.hand.tap("Sync now")
    wait_for(keeper, "Both sides hold the same")
    keeper.close()

    keeper.folder = tmp_path / "other phone"
    keeper.open()
    keeper.set_up("Quarry Top", 3)
    before = len(keeper.records)
    keeper.hand.tap("Home")
    keeper.hand.tap("Pair with a server")
    pair(keeper, server.new_code(operation), server.address)
    wait_for(keeper, "belong together")
    texts = keeper.hand.all_pages()
    assert "Quarry Top" in texts
    assert "Ferry Lane" in texts
    assert len(keeper.records) == before
    keeper.hand.find("Join them")
    keeper.hand.tap("Join them")
    wait_for(keeper, "Both sides hold the same")
    assert len(keeper.records) > before


def test_what_is_not_understood_stays_in_sight(keeper):
    """A record of a kind that this version does not know is counted, also after a restart."""
    writer = bytes(range(16))
    record = b'{"id":"01890000-0000-7000-8000-000000000001","kind":"from the future","v":9}'
    before = chain.start(writer)
    after = chain.link(before, record)
    receive(keeper.kit.notebook.journal, [Batch(writer, 1, before, after, (record,))])
    keeper.reopen()
    keeper.hand.tap("Home")
    assert keeper.hand.reads("1 record is not understood by this version")
    keeper.hand.find("Look at these records")
    keeper.hand.tap("Look at these records")
    assert keeper.page == "odd"
    assert keeper.hand.reads("Not understood")
    assert keeper.hand.reads("from the future: ")
    assert keeper.hand.reads("writer 00010203 04050607 08090a0b 0c0d0e0f, record 1")
    keeper.hand.tap("Back")
    assert keeper.page == "home"


def test_what_was_refused_is_listed_with_its_reason(keeper):
    """By this phone or the server: place, size and why, also after a restart."""
    journal = keeper.kit.notebook.journal
    for by, why in (("us", "digest after"), ("them", "too large")):
        refusals.keep(journal, by, [refusals.Refusal(bytes(range(16)), 7, why, 70_000)])
    keeper.reopen()
    keeper.hand.tap("Home")
    keeper.hand.find("Look at these records")
    keeper.hand.tap("Look at these records")
    texts = keeper.hand.all_pages()
    assert "Refused by this phone" in texts
    assert "70000 bytes: it did not arrive as it was sent" in texts
    assert "Refused by the server" in texts
    assert "70000 bytes: it is larger than a record may be" in texts


def test_a_record_altered_behind_the_program_stays_in_sight(keeper):
    """It is said how many were set aside, and what brings them back."""
    journal = keeper.kit.notebook.journal
    with journal.connections.writing() as connection:
        connection.execute("UPDATE record SET raw = X'3F' WHERE arrival = 5")
    verify(journal)
    keeper.reopen()
    keeper.hand.tap("Home")
    assert keeper.hand.reads("1 record was altered behind this program")
