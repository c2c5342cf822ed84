"""One record of a hive: corrected, taken back, settled between versions; nothing out of sight."""

from __future__ import annotations

import pytest

from fieldapp.rounds.hive import hive_view
from fieldapp.rounds.hive_correction import Correction
from fieldapp.rounds.hive_history import history
from fieldapp.rounds.hive_record import RecordView
from fieldapp.rounds.one_record import Gone, entry_of
from fieldapp.words import Speech

SPEAK = Speech()
DAY = 86_400


@pytest.fixture
def counted(phone):
    """A hive with one count of 7 mites in 300 bees."""
    phone.set_up(2)
    phone.time.pass_(DAY)
    hive = phone.hives()[0]
    body = {"way": "wash", "mites": 7, "bees": 300, "bees_by": "counted"}
    record = phone.write("count", body, apiary=phone.book.hive(hive).apiary, hive=hive)
    phone.hive, phone.root = hive, record.id
    return phone


def correct(phone, why="misread", **answers):
    correction = Correction(phone.notebook, entry_of(phone.notebook, phone.root))
    for name, value in answers.items():
        correction.take(name, value)
    correction.why = why
    correction.save()


def view(phone):
    return RecordView(phone.notebook, phone.hive, phone.root)


def test_a_correction_names_root_and_heads_and_keeps_all_else(counted):
    """Mites 7 become 6; way and bees stay; a second correction replaces the first."""
    correct(counted, mites=6)
    correct(counted, mites=5)
    first, second = (r for r in counted.records("count") if r.corrects)
    assert first.corrects == second.corrects == counted.root
    assert (first.heads, second.heads) == ((), (first.id,))
    assert second.body == {"way": "wash", "mites": 5, "bees": 300, "bees_by": "counted"}
    assert not view(counted).asks


def test_a_correction_is_shown_as_one_with_its_reason(counted):
    """What stands now, what stood before, who and why."""
    correct(counted, mites=6)
    (change,) = view(counted).changes()
    assert SPEAK(change.words).startswith("Corrected: 2 Jul 2026")
    assert [SPEAK(each) for each in change.differences] == ["Mites: 6"]
    assert [SPEAK(each) for each in view(counted).notes()] == ["2 Jul 2026: why: misread"]
    newest = SPEAK(history(counted.notebook, counted.hive)[0].told.words)
    assert newest == "2 Jul 2026: Count, 6 mites (corrected)"


def test_day_and_hive_can_be_put_right(counted):
    """The record moves a day back, then to the other hive with that hive's colony."""
    other = counted.hives()[1]
    correct(counted, day="-1")
    assert counted.book.history(counted.hive)[0].holds.happened.startswith("2026-07-01T09:00")
    correct(counted, hive=other)
    entry = next(e for e in counted.book.history(other) if e.root.id == counted.root)
    assert entry.holds.hive == other
    assert entry.holds.colony == counted.book.hive(other).colony


def test_nothing_otherwise_is_nothing_to_save(counted):
    """A correction that changes nothing is not offered."""
    correction = Correction(counted.notebook, entry_of(counted.notebook, counted.root))
    assert not correction.ready
    correction.take("mites", 8)
    assert correction.ready


def test_a_record_taken_back_counts_no_more_and_stays_in_sight(counted):
    """Void with a reason: the load is not known again, the history still has it."""
    Correction(counted.notebook, view(counted).entry).void("did not happen")
    told = hive_view(counted.notebook, counted.hive)
    assert told.load[0].sign == "unknown"
    newest = history(counted.notebook, counted.hive)[0]
    assert SPEAK(newest.told.words) == "2 Jul 2026: Count, 7 mites (taken back)"
    assert "did not happen" in SPEAK(view(counted).notes()[0])


def test_two_versions_side_by_side_are_asked_and_the_answer_names_both(counted):
    """Two phones corrected the same record apart; the keeper says which holds."""
    root = view(counted).entry.root
    for mites in (6, 9):
        draft = {"corrects": root.id, "apiary": root.apiary}
        counted.write("count", {**root.body, "mites": mites}, hive=root.hive, **draft)
    asking = view(counted)
    assert asking.asks
    assert history(counted.notebook, counted.hive)[0].told.sign == "unknown"
    said = [[SPEAK(each) for each in asking.version_words(at)] for at in (0, 1)]
    assert "Mites: 6" in said[0]
    assert "Mites: 9" in said[1]
    asking.settle(0)
    assert not view(counted).asks
    assert view(counted).entry.holds.body["mites"] == 6
    assert len(counted.records("count")[-1].heads) == 2


def test_words_are_added_beside_a_record(counted):
    """A note changes nothing that the record says; empty words are none."""
    view(counted).add_words("  a warm day ")
    view(counted).add_words("  ")
    assert [SPEAK(each) for each in view(counted).notes()] == ["2 Jul 2026: a warm day"]
    assert view(counted).changes() == []


def test_a_record_that_is_not_here_says_so(counted):
    """In words, with what to do."""
    with pytest.raises(Gone, match="open the page anew"):
        entry_of(counted.notebook, counted.hive)
