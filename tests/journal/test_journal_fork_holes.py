"""Holes where a writer forked: two branches that lack the same numbers lack different records."""

from __future__ import annotations

import shutil

import pytest
from journal_making import FINDER, Device, note, texts

from fieldapp.journal.holes import holes, verify
from fieldapp.journal.merging import sync

SHARED = ["1", "2", "3"]
OURS = [f"our {n}" for n in range(4, 10)]
THEIRS = [f"their {n}" for n in range(4, 10)]
ALL = sorted([*SHARED, *OURS, *THEIRS])


@pytest.fixture
def forked(device, tmp_path):
    """Return a phone that holds both branches of its first writer, which parted after 3.

    `away` holds the same as the phone, `half` their branch only.
    """
    phone = device("phone")
    phone.journal.write([note(words) for words in SHARED])
    phone.journal.close()
    shutil.copytree(tmp_path / "phone", tmp_path / "copy")
    phone.opened()
    copy, away, half = device("copy"), device("away"), device("half")
    for each, words in ((phone, OURS), (copy, THEIRS)):
        each.journal.write([note(one) for one in words])
    for one, other in ((copy, half), (copy, away), (phone, away)):
        assert sync(one.journal, other.host, FINDER).equal
    assert texts(phone.journal) == ALL
    assert texts(half.journal) == sorted([*SHARED, *THEIRS])
    return phone, away, half


def spoil(device: Device, harm: str, *words: str) -> None:
    """Alter or remove the records that say `words`, behind the program's back."""
    statement = {
        "altered": "UPDATE record SET raw = CAST(raw || ' ' AS BLOB)",
        "missing": "DELETE FROM record",
    }[harm]
    for one in words:
        device.journal.connections.here().execute(
            f"{statement} WHERE instr(raw, ?)", (f'"words":"{one}"',)
        )


def named(device: Device) -> list[tuple[int, int, str]]:
    return [(hole.first, hole.last, hole.why) for hole in holes(device.journal)]


def losses(device: Device) -> list[tuple[int, int]]:
    return sorted(
        (record.body["first"], record.body["last"])
        for _, record in device.journal.arrivals()
        if record.kind == "loss"
    )


def without(*words: str) -> list[str]:
    return sorted(set(ALL) - set(words))


@pytest.mark.parametrize("ours", ["altered", "missing"])
@pytest.mark.parametrize("theirs", ["altered", "missing"])
@pytest.mark.parametrize("seq", [4, 6, 9])
def test_each_branch_has_its_own_hole(forked, ours: str, theirs: str, seq: int) -> None:
    """Both are named, nothing beside them stops counting, and both come back."""
    phone, away, _ = forked
    spoil(phone, ours, f"our {seq}")
    spoil(phone, theirs, f"their {seq}")
    verify(phone.journal)
    # Of what was removed from an end nothing is left that could tell it, but in the own branch.
    gone = [why for why in (ours, theirs) if seq < 9 or why == "altered"]
    assert sorted(named(phone)) == sorted((seq, seq, why) for why in gone)
    assert texts(phone.journal) == without(f"our {seq}", f"their {seq}")
    assert verify(phone.journal) == [], "each is found once"
    assert texts(phone.journal) == without(f"our {seq}", f"their {seq}")
    assert sync(phone.journal, away.host, FINDER).equal
    assert texts(phone.journal) == texts(away.journal) == ALL
    assert holes(phone.journal) == []
    assert losses(phone) == []


@pytest.mark.parametrize("harm", ["altered", "missing"])
def test_filling_one_leaves_the_other_a_hole(forked, harm: str) -> None:
    """A phone that has one branch only brings its record; the other one's is told as lost."""
    phone, _, half = forked
    spoil(phone, harm, "our 6", "their 6")
    verify(phone.journal)
    assert sync(phone.journal, half.host, FINDER).equal
    assert texts(phone.journal) == texts(half.journal) == without("our 6")
    assert [(hole.first, hole.lost) for hole in holes(phone.journal)] == [(6, True)]
    assert losses(phone) == losses(half) == [(6, 6)]


@pytest.mark.parametrize("harm", ["altered", "missing"])
def test_what_both_lack_for_good_is_told_once_and_may_still_come(forked, device, harm) -> None:
    """A loss names writer and number, which are the same; each record fills its own hole."""
    phone, away, _ = forked
    spoil(phone, harm, "our 6", "their 6")
    verify(phone.journal)
    server = device("server", server=True)
    assert sync(phone.journal, server.host, FINDER).equal
    assert losses(server) == [(6, 6)]
    assert [hole.lost for hole in holes(phone.journal)] == [True, True]
    assert texts(server.journal) == without("our 6", "their 6")
    for each in (phone, server, phone):
        assert sync(each.journal, away.host, FINDER).equal
    assert texts(phone.journal) == texts(server.journal) == ALL
    assert holes(phone.journal) == holes(server.journal) == []


def test_different_stretches_of_two_branches_are_told_each(forked, device) -> None:
    """5 to 7 of one and 6 of the other: the first's 6 does not pass for the second's."""
    phone, _, _ = forked
    spoil(phone, "missing", "our 5", "our 6", "our 7", "their 6")
    verify(phone.journal)
    assert sorted(named(phone)) == [(5, 7, "missing"), (6, 6, "missing")]
    server = device("server", server=True)
    assert sync(phone.journal, server.host, FINDER).equal
    assert losses(server) == [(5, 7)], "6 is told with it"
    assert texts(server.journal) == without("our 5", "our 6", "our 7", "their 6")


def test_a_stretch_that_one_branch_has_is_lost_to_the_other(forked, device) -> None:
    """The other branch stands whole at the same numbers: what is missing is told all the same."""
    phone, _, _ = forked
    spoil(phone, "missing", "our 5", "our 6")
    verify(phone.journal)
    server = device("server", server=True)
    assert sync(phone.journal, server.host, FINDER).equal
    assert losses(server) == [(5, 6)]
    assert texts(server.journal) == without("our 5", "our 6")


def test_a_hole_across_the_fork_fills_in_parts(forked) -> None:
    """2 to 5 are missing of one branch, with the fork after 3 inside: 2 and 3 fill both."""
    phone, away, half = forked
    spoil(phone, "missing", "2", "3", "our 4", "our 5")
    verify(phone.journal)
    assert sorted(named(phone)) == [(2, 3, "missing"), (4, 5, "missing")]
    assert sync(phone.journal, half.host, FINDER).equal
    assert losses(phone) == [(4, 5)]
    assert texts(phone.journal) == without("our 4", "our 5")
    assert sync(phone.journal, away.host, FINDER).equal
    assert texts(phone.journal) == ALL
