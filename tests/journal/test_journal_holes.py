"""Records altered, removed or inserted behind the program's back are found and named."""

from __future__ import annotations

import pytest
from journal_making import FINDER, note, texts

from fieldapp.journal import chain
from fieldapp.journal.filling import unsettled
from fieldapp.journal.holes import holes, verify
from fieldapp.journal.merging import sync

WORDS = [f"{n}" for n in range(1, 10)]


@pytest.fixture
def pair(device):
    """Return a phone with nine records, and a server that holds them all."""
    phone, server = device("phone"), device("server", server=True)
    phone.journal.write([note(words) for words in WORDS])
    assert sync(phone.journal, server.host, FINDER).equal
    return phone, server


def sql(device, statement: str, *values: object) -> None:
    device.journal.connections.here().execute(statement, values)


def alter(device, seq: int) -> None:
    sql(device, "UPDATE record SET raw = CAST(raw || ' ' AS BLOB) WHERE seq = ?", seq)


def named(found) -> list[tuple[int, int, str]]:
    return [(hole.first, hole.last, hole.why) for hole in found]


@pytest.mark.parametrize("seq", [1, 4, 9])
def test_an_altered_record_is_named_and_comes_back(pair, seq: int) -> None:
    """First, in the middle and last; what stands above it counts all the while."""
    phone, server = pair
    writer = phone.journal.writer
    alter(phone, seq)
    assert verify(phone.journal)[0].writer == writer
    assert named(holes(phone.journal)) == [(seq, seq, "altered")]
    assert verify(phone.journal) == [], "it is found once"
    assert texts(phone.journal) == [w for w in WORDS if w != str(seq)]
    assert sync(phone.journal, server.host, FINDER).equal
    assert texts(phone.journal) == texts(server.journal) == WORDS
    assert holes(phone.journal) == []
    assert server.journal.count() == 9, "nothing is written again, nothing is lost"


@pytest.mark.parametrize("seq", [1, 4, 9])
def test_a_removed_record_is_named_and_comes_back(pair, seq: int) -> None:
    """Also the last one, of the own writer."""
    phone, server = pair
    sql(phone, "DELETE FROM record WHERE seq = ?", seq)
    assert named(verify(phone.journal)) == [(seq, seq, "missing")]
    assert sync(phone.journal, server.host, FINDER).equal
    assert texts(phone.journal) == WORDS
    assert server.journal.count() == 9


def test_an_inserted_record_is_named(pair) -> None:
    """One put in at the end with a digest that does not compute takes part in nothing."""
    phone, _ = pair
    (raw,) = phone.journal.connections.here().execute("SELECT raw FROM record").fetchone()
    sql(
        phone,
        "INSERT INTO record (branch, seq, digest, ident, standing, raw) VALUES (1, 10, ?, ?, 0, ?)",
        b"d" * 32,
        b"i" * 16,
        raw,
    )
    assert named(verify(phone.journal)) == [(10, 10, "altered")]
    assert texts(phone.journal) == WORDS


def test_a_digest_that_was_altered_is_found(pair) -> None:
    """The index is checked against the bytes, not trusted."""
    phone, server = pair
    sql(phone, "UPDATE record SET digest = ? WHERE seq = 4", b"d" * 32)
    assert verify(phone.journal)[0].first == 4
    assert sync(phone.journal, server.host, FINDER).equal
    assert texts(phone.journal) == WORDS


def test_several_holes_fill_one_by_one(pair) -> None:
    """Each stretch joins on again to the one below."""
    phone, server = pair
    alter(phone, 2)
    sql(phone, "DELETE FROM record WHERE seq IN (5, 6)")
    alter(phone, 8)
    assert sorted(named(verify(phone.journal))) == [
        (2, 2, "altered"),
        (5, 6, "missing"),
        (8, 8, "altered"),
    ]
    assert texts(phone.journal) == ["1", "3", "4", "7", "9"]
    assert sync(phone.journal, server.host, FINDER).equal
    assert texts(phone.journal) == WORDS
    assert phone.journal.vector() == server.journal.vector()


def test_after_a_hole_in_the_own_records_a_new_writer_begins(pair) -> None:
    """Nothing is written in the place of what others may hold."""
    phone, server = pair
    writer = phone.journal.writer
    alter(phone, 9)
    verify(phone.journal)
    (record,) = phone.journal.write([note("after")])
    assert record.writer != writer
    assert sync(phone.journal, server.host, FINDER).equal
    assert texts(server.journal) == [*WORDS, "after"]


def test_removed_newest_records_are_noticed_without_a_check(pair) -> None:
    """A tap right after it begins a new writer, so no place is used twice."""
    phone, server = pair
    writer = phone.journal.writer
    sql(phone, "DELETE FROM record WHERE seq > 7")
    (record,) = phone.journal.write([note("after")])
    assert record.writer != writer
    assert sync(phone.journal, server.host, FINDER).equal
    assert texts(phone.journal) == [*WORDS, "after"]
    assert len(phone.journal.vector()) == 2, "no fork"


def test_what_no_one_holds_is_written_again_and_the_rest_told(device) -> None:
    """Only what is then still missing is a loss."""
    phone, server = device("phone"), device("server", server=True)
    phone.journal.write([note(words) for words in WORDS])
    alter(phone, 4)
    verify(phone.journal)
    assert unsettled(phone.journal)
    assert sync(phone.journal, server.host, FINDER).equal
    assert not unsettled(phone.journal)
    assert texts(server.journal) == [w for w in WORDS if w != "4"]
    (loss,) = [r for _, r in server.journal.arrivals() if r.kind == "loss"]
    assert (loss.body["first"], loss.body["last"]) == (4, 4)
    assert [(h.first, h.lost) for h in holes(phone.journal)] == [(4, True)]


def test_the_lost_one_may_still_come_back(device) -> None:
    """A phone that was away brings it; what was written again counts once all the same."""
    phone, away = device("phone"), device("away")
    server = device("server", server=True)
    phone.journal.write([note(words) for words in WORDS])
    assert sync(phone.journal, away.host, FINDER).equal
    alter(phone, 4)
    verify(phone.journal)
    assert sync(phone.journal, server.host, FINDER).equal
    for each in (away, phone):
        assert sync(each.journal, server.host, FINDER).equal
    assert texts(phone.journal) == texts(server.journal) == texts(away.journal) == WORDS
    assert holes(phone.journal) == []


def test_copies_do_not_pile_up(pair, device) -> None:
    """Two replicas with the same hole: what one wrote again the other does not write too."""
    source, server = pair
    phone = device("helper")
    assert sync(phone.journal, source.host, FINDER).equal
    for each in (phone, server):
        alter(each, 4)
        verify(each.journal)
    assert sync(phone.journal, server.host, FINDER).equal
    assert texts(phone.journal) == texts(server.journal) == [w for w in WORDS if w != "4"]
    places = sum(head.seq for head in phone.journal.vector())
    assert places == 3 + 5 + 1, "below the hole, above it once, and one loss"


@pytest.mark.parametrize(
    "harm",
    [
        'DELETE FROM record WHERE branch IS NOT NULL AND instr(raw, \'"words":"6"\')',
        "UPDATE record SET raw = X'3F' WHERE branch IS NOT NULL AND instr(raw, '\"words\":\"6\"')",
    ],
    ids=["removed", "altered"],
)
def test_bytes_without_a_place_take_one_again(pair, device, harm: str) -> None:
    """They had lost it to the same bytes elsewhere; without those they are all there is."""
    source, server = pair
    phone = device("helper")
    assert sync(phone.journal, source.host, FINDER).equal
    for each in (phone, server):
        alter(each, 4)
        verify(each.journal)
    assert sync(phone.journal, server.host, FINDER).equal
    placeless = "SELECT count(*) FROM record WHERE branch IS NULL AND standing <> 4"
    (holder,) = (
        each
        for each in (phone, server)
        if each.journal.connections.here().execute(placeless).fetchone()[0]
    )
    sql(holder, harm)
    verify(holder.journal)
    assert texts(holder.journal) == [w for w in WORDS if w != "4"]
    fresh = device("fresh")
    assert sync(fresh.journal, holder.host, FINDER).equal
    assert texts(fresh.journal) == texts(holder.journal)
    assert fresh.journal.count() == holder.journal.count()


def test_of_two_places_of_a_record_the_other_counts_when_one_is_removed(pair, device) -> None:
    """What was written again and came back too stands twice; removing one changes no answer."""
    phone, server = pair
    away = device("away")
    assert sync(away.journal, phone.host, FINDER).equal
    alter(phone, 4)
    verify(phone.journal)
    assert sync(phone.journal, device("empty", server=True).host, FINDER).equal
    for each in (away, phone):
        assert sync(each.journal, server.host, FINDER).equal
    before = phone.journal.generation
    sql(phone, 'DELETE FROM record WHERE standing = 0 AND instr(raw, \'"words":"6"\')')
    verify(phone.journal)
    assert texts(phone.journal) == WORDS
    assert phone.journal.generation != before


def test_a_record_is_checked_before_it_is_sent(pair, device) -> None:
    """One that was altered since the start does not travel; it is a hole from then on."""
    phone, _ = pair
    alter(phone, 4)
    other = device("other")
    assert sync(phone.journal, other.host, FINDER).equal
    assert "4" not in texts(other.journal)
    assert named(holes(phone.journal)) == [(4, 4, "altered")]


def test_a_server_checks_what_it_gives(pair, device) -> None:
    """The same from the other side."""
    phone, server = pair
    alter(server, 4)
    fresh = device("fresh")
    assert sync(fresh.journal, server.host, FINDER).equal
    assert named(holes(server.journal)) == [(4, 4, "altered")]
    for each in (phone, fresh):
        assert sync(each.journal, server.host, FINDER).equal
    assert texts(fresh.journal) == texts(server.journal) == WORDS


def test_a_history_rewritten_with_fitting_digests_shows_as_a_fork(pair) -> None:
    """Who recomputes all digests is shown by the head that another replica saw."""
    phone, server = pair
    connection = phone.journal.connections.here()
    digest = chain.start(bytes.fromhex(phone.journal.writer))
    for arrival, raw in connection.execute("SELECT arrival, raw FROM record").fetchall():
        forged = raw.replace(b'"words":"4"', b'"words":"X"')
        digest = chain.link(digest, forged)
        sql(phone, "UPDATE record SET raw=?, digest=? WHERE arrival=?", forged, digest, arrival)
    assert verify(phone.journal) == []
    assert sync(phone.journal, server.host, FINDER).new_writer
    assert len(server.journal.vector()) == 2
    assert len(server.journal.other_contents()) == 1


def test_what_counts_changed_is_told_to_those_who_derive_from_it(pair) -> None:
    """A record that stops counting changes the generation."""
    phone, _ = pair
    before = phone.journal.generation
    alter(phone, 4)
    verify(phone.journal)
    assert phone.journal.generation != before
