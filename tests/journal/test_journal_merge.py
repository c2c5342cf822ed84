"""Replicas that meet: what each lacks arrives, whatever happened in between."""

from __future__ import annotations

import shutil

import pytest
from hypothesis import given
from hypothesis import strategies as st
from journal_making import FINDER, Device, note, texts

from fieldapp.journal import chain
from fieldapp.journal.batches import Batch, batches
from fieldapp.journal.halving import Halving
from fieldapp.journal.holes import holes, verify
from fieldapp.journal.losses import Finder
from fieldapp.journal.merging import sync
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import MOST_BYTES
from fieldapp.journal.refusals import refused
from fieldapp.journal.replica import Host


class Counting:
    """A peer that counts the questions to it; making requests ready is none."""

    def __init__(self, host: Host) -> None:
        self._host = host
        self.calls: list[str] = []

    def __getattr__(self, name: str):
        if name != "ready":
            self.calls.append(name)
        return getattr(self._host, name)


def meet(device: Device, other: Device):
    outcome = sync(device.journal, other.host, FINDER)
    assert outcome.equal
    assert device.journal.vector() == other.journal.vector()
    return outcome


def copy(device: Device, to: Device) -> None:
    """Make `to` an image of `device`, marker and all."""
    to.journal.close()
    for part in device.path.parent.glob("journal.db*"):
        shutil.copy(part, to.path.parent / part.name)
    to.opened()


def test_two_phones_meet_at_a_server(device) -> None:
    """Both hold both, and the counts are told."""
    one, two, server = device("one"), device("two"), device("server", server=True)
    one.journal.write([note(f"one {n}") for n in range(3)])
    two.journal.write([note("two")])
    assert meet(one, server)[1:4] == (3, 3, 0)
    assert meet(two, server)[1:4] == (4, 1, 3)
    meet(one, server)
    assert texts(one.journal) == texts(two.journal) == ["one 0", "one 1", "one 2", "two"]


def test_nothing_to_do_costs_one_call(device) -> None:
    """Equal hashes end a sync at once."""
    phone, server = device("phone"), device("server", server=True)
    phone.journal.write([note()])
    meet(phone, server)
    peer = Counting(server.host)
    assert sync(phone.journal, peer, FINDER).equal
    assert peer.calls == ["greet"]


def test_twenty_new_ones_take_four_calls(device) -> None:
    """However much both hold already; both ways."""
    phone, server = device("phone"), device("server", server=True)
    phone.journal.write([note(f"{n}") for n in range(3000)])
    meet(phone, server)
    phone.journal.write([note(f"new {n}") for n in range(20)])
    server.journal.write([note("of the server")])
    peer = Counting(server.host)
    assert sync(phone.journal, peer, FINDER)[2:4] == (20, 1)
    assert peer.calls == ["greet", "offer", "take", "give", "greet"]


def test_a_copied_phone_forks_and_both_go_on(device) -> None:
    """Both branches stay everywhere; each copy begins a new writer and its keeper is told."""
    phone, twin, server = device("phone"), device("twin"), device("server", server=True)
    phone.journal.write([note("before")])
    copy(phone, twin)
    assert phone.journal.writer == twin.journal.writer
    phone.journal.write([note("phone")])
    twin.journal.write([note("twin"), note("twin")])
    meet(phone, server)
    assert meet(twin, server).new_writer
    assert meet(phone, server).new_writer
    meet(twin, server)
    for each in (phone, twin, server):
        assert texts(each.journal) == ["before", "phone", "twin", "twin"]
        assert sorted(head.seq for head in each.journal.vector()) == [2, 3]
    assert [r.what for r in twin.journal.remarks()] == ["new writer"]
    (mine,), (others,) = phone.journal.write([note()]), twin.journal.write([note()])
    assert mine.writer != others.writer


def test_a_fork_far_down_is_found_by_halving(device) -> None:
    """Few calls, and what is shared is not sent again."""
    phone, twin, server = device("phone"), device("twin"), device("server", server=True)
    phone.journal.write([note(f"{n}") for n in range(1000)])
    copy(phone, twin)
    for each in (phone, twin):
        each.journal.write([note(f"later {n}") for n in range(500)])
    meet(phone, server)
    peer = Counting(server.host)
    outcome = sync(twin.journal, peer, FINDER)
    assert (outcome.sent, outcome.fetched, outcome.records) == (500, 500, 2000)
    assert len(peer.calls) <= 9


def test_a_restored_server_lacks_nothing(device) -> None:
    """A server set back to an older image gets all again, whatever phones sent before."""
    phone, server, older = device("phone"), device("server", server=True), device("older")
    phone.journal.write([note("one")])
    meet(phone, server)
    server.journal.connections.here().execute("PRAGMA wal_checkpoint(TRUNCATE)")
    copy(server, older)
    phone.journal.write([note("two")])
    meet(phone, server)
    assert meet(phone, older).sent == 1


def test_any_phone_rebuilds_the_server_and_the_server_any_phone(device) -> None:
    """Also several that hold a part each."""
    one, two, server = device("one"), device("two"), device("server", server=True)
    one.journal.write([note("one")])
    two.journal.write([note("two")])
    meet(one, server)
    meet(two, server)
    rebuilt, phone = device("rebuilt", server=True), device("phone")
    meet(one, rebuilt)
    meet(two, rebuilt)
    meet(phone, rebuilt)
    assert phone.journal.vector() == server.journal.vector()


def test_each_start_of_a_server_is_a_new_writer(device) -> None:
    """So is a marker that does not match; a phone that was only closed goes on."""
    server, phone = device("server", server=True), device("phone")
    for each in (server, phone):
        each.journal.write([note()])
        each.journal.close()
        each.opened()
        each.journal.write([note()])
    assert len(server.journal.vector()) == 2
    assert len(phone.journal.vector()) == 1


@pytest.mark.parametrize("text", [None, "0" * 32 + " closed"])
def test_without_its_marker_a_new_writer_begins(device, text: str | None) -> None:
    """A journal that was moved without its marker, or to another's, is another writer."""
    phone = device()
    (before,) = phone.journal.write([note()])
    phone.journal.close()
    marker = phone.path.with_name("journal.db.marker")
    marker.unlink() if text is None else marker.write_text(text)
    phone.opened()
    (after,) = phone.journal.write([note()])
    assert (before.writer == after.writer, after.seq) == (False, 1)
    assert [r[2:] for r in phone.journal.remarks()] == [("new writer", "marker")]


def spoilt(device) -> tuple[Device, list[Batch]]:
    source = device("source")
    source.journal.write([note(f"{n}") for n in range(6)])
    (head,) = source.journal.vector()
    return source, list(batches(source.journal, head, 0, most_records=3))


def test_a_batch_whose_digests_do_not_compute_is_refused(device) -> None:
    """Whole, in sight with its place across restarts, and gone from sight once it came."""
    _, (first, second) = spoilt(device)
    phone = device("phone")
    broken = first._replace(records=(*first.records[:2], b"{}"))
    (receipt,) = receive(phone.journal, [broken])
    assert (receipt.new, receipt.refused.why) == (0, "digest after")
    phone.journal.close()
    journal = phone.opened()
    assert [(r.seq, r.why) for r in refused(journal, "us")] == [(1, "digest after")]
    assert receive(journal, [second])[0].refused.why == "digest before"
    assert [receipt.new for receipt in receive(journal, [first, second])] == [3, 3]
    assert refused(journal, "us") == []


@pytest.mark.parametrize(
    ("bad", "why"), [(b"x" * (MOST_BYTES + 1), "too large"), (b"{\n}", "not one line")]
)
def test_what_stands_before_a_refused_record_is_stored(device, bad: bytes, why: str) -> None:
    """The rest of the batch is refused, with the place of the first."""
    _, (first, _) = spoilt(device)
    raws = (*first.records[:2], bad, first.records[2])
    after = list(chain.digests(first.before, raws))[-1]
    journal = device("phone").journal
    (receipt,) = receive(journal, [first._replace(after=after, records=raws)])
    assert (receipt.held, receipt.new) == (2, 2)
    assert receipt.refused[1:] == (3, why, len(bad))
    assert refused(journal, "us") == [receipt.refused]


def test_a_record_of_64_kib_is_taken(device) -> None:
    """The size itself is no fault; what it says is never one."""
    raw = b"x" * MOST_BYTES
    writer = b"w" * 16
    before = chain.start(writer)
    batch = Batch(writer, 1, before, chain.link(before, raw), (raw,))
    assert receive(device().journal, [batch])[0].refused is None


def test_a_batch_twice_or_overlapping_counts_once(device) -> None:
    """Repeating is safe."""
    source, (first, second) = spoilt(device)
    (head,) = source.journal.vector()
    whole = next(batches(source.journal, head, 0))
    journal = device("phone").journal
    assert [r.new for r in receive(journal, [first, first, whole, second])] == [3, 0, 3, 0]
    assert journal.vector() == source.journal.vector()


def test_a_refusal_that_own_checks_do_not_share_changes_nothing(device) -> None:
    """A server that refuses what is sound is told of, and the record stays."""
    phone, server = device("phone"), device("server", server=True)
    phone.journal.write([note()])

    class Refusing(Host):
        def take(self, sent):
            oversize = [b._replace(records=(b"x" * (MOST_BYTES + 1),)) for b in sent]
            after = chain.link(oversize[0].before, oversize[0].records[0])
            return receive(self._journal, [oversize[0]._replace(after=after)])

    outcome = sync(phone.journal, Refusing(server.journal, FINDER), FINDER)
    assert not outcome.equal
    assert [r.why for r in outcome.refused_by_them] == ["too large"]
    assert refused(phone.journal, "them") == list(outcome.refused_by_them)
    assert texts(phone.journal) == ["as usual"]
    assert holes(phone.journal) == []
    meet(phone, server)
    assert refused(phone.journal, "them") == []


def test_a_record_over_the_size_is_set_aside(device) -> None:
    """It is treated as a hole: what stands above it reaches the others."""
    phone, server = device("phone"), device("server", server=True)
    phone.journal.write([note("one")])
    connection = phone.journal.connections.here()
    branch, digest = connection.execute("SELECT branch, digest FROM record").fetchone()
    big = b"x" * (MOST_BYTES + 1)
    connection.execute(
        "INSERT INTO record (branch, seq, digest, ident, standing, raw) VALUES (?, 2, ?, ?, 1, ?)",
        (branch, chain.link(digest, big), b"i" * 16, big),
    )
    connection.execute("UPDATE replica SET own_seq = 2")
    phone.journal.write([note("three")])
    assert [(h.first, h.why) for h in verify(phone.journal)] == [(2, "too large")]
    meet(phone, server)
    assert texts(server.journal) == ["one", "three"]


@given(st.integers(0, 10**6), st.integers(0, 10**6), st.integers(0, 10**6))
def test_halving_finds_the_last_shared_record(low: int, more: int, room: int) -> None:
    """Within four rounds among a million."""
    shared, high = low + more, low + more + room
    search, rounds = Halving(low, high), 0
    while search.found is None:
        seqs = search.asks()
        search.told(seqs, [seq <= shared for seq in seqs])
        rounds += 1
    assert search.found == shared
    assert rounds <= 4


def test_who_finds_a_loss_signs_it(device) -> None:
    """What no replica brings back is told once, by writer and range."""
    phone, server = device("phone"), device("server", server=True)
    phone.journal.write([note(f"{n}") for n in range(5)])
    writer = phone.journal.writer
    phone.journal.connections.here().execute("DELETE FROM record WHERE seq IN (2, 3)")
    assert [h[1:4] for h in verify(phone.journal)] == [(2, 3, "missing")]
    finder = Finder("the shed's server", FINDER.keeper, FINDER.happened)
    assert sync(phone.journal, server.host, finder).equal
    told = [r.body for _, r in server.journal.arrivals() if r.kind == "loss"]
    assert told == [{"of": writer, "first": 2, "last": 3, "finder": "the shed's server"}]
    assert texts(server.journal) == ["0", "3", "4"]
    meet(phone, server)
    assert [r.kind for _, r in server.journal.arrivals()].count("loss") == 1
