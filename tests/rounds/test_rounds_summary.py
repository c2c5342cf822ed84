"""The summary: hives in short, what was not done first."""

from __future__ import annotations

import pytest

from fieldapp.book.book import Book
from fieldapp.rounds.planning import Plan
from fieldapp.rounds.summary import listed, summary
from fieldapp.words import Speech

VAPOUR = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/sublimation"
AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
SPEAK = Speech()


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ([], ""),
        (["7"], "7"),
        (["1", "2"], "1, 2"),
        (["1", "2", "3"], "1-3"),
        (["1", "3", "4", "5", "31a", "32"], "1, 3-5, 31a, 32"),
        (["9", "10", "11", "2"], "9-11, 2"),
    ],
)
def test_numbers_in_a_row_are_said_by_their_ends(numbers, said):
    """Two stay two; what is not a number stands as it is."""
    assert listed(numbers) == said


def test_a_hive_without_a_reason_is_named_as_such(phone):
    """What nobody did and nobody explained is not passed over in silence."""
    phone.set_up(3)
    round_ = phone.start(AMITRAZ).begin()
    round_.tap(phone.hives()[0])
    round_.skip(phone.hives()[1], "queenless")
    parts = summary(phone.notebook, round_)
    assert [SPEAK(line) for line in parts.not_done] == [
        "Hive 2: queenless",
        "Hive 3: no reason given",
    ]
    assert [SPEAK(line) for line in parts.done] == ["Hive 1: 2 pieces"]


def test_undo_of_a_dead_hive_brings_it_back(phone):
    """The death that one tap logged is void with it."""
    phone.set_up(1)
    (hive,) = phone.hives()
    round_ = phone.start(AMITRAZ).begin()
    round_.skip(hive, "dead")
    assert phone.book.hive(hive).dead is not None
    round_.undo()
    assert phone.book.hive(hive).dead is None
    assert round_.next.hive == hive


def test_a_second_vapour_inside_a_plan_is_noted_as_over_label(phone):
    """The label gives one; the keeper's own plan is shown as what it is from the second."""
    phone.set_up(2)
    for days in (0, 5):
        phone.time.pass_(days * 86_400)
        start = phone.start(VAPOUR)
        if start.plannable:
            start.plan = Plan.of(VAPOUR, start.body)
        round_ = start.begin()
        for hive in phone.hives():
            round_.tap(hive)
    flags = [SPEAK(line.words) for line in summary(phone.notebook, round_).flags]
    assert "Hives 1, 2: over label: 2 applications, label 1" in flags


def test_what_comes_next_and_is_late_is_told_as_late(phone):
    """The next vapour of a plan waits at first; twelve days on it is late at the hive left out."""
    phone.set_up(2)
    done, left = phone.hives()
    signs = []
    for days, hives in ((0, (done, left)), (12, (done,))):
        phone.time.pass_(days * 86_400)
        start = phone.start(VAPOUR)
        if start.plannable:
            start.plan = Plan.of(VAPOUR, start.body)
        round_ = start.begin()
        for hive in hives:
            round_.tap(hive)
        told = summary(phone.notebook, round_).next
        signs.append({each.sign for each in told if "next application" in SPEAK(each.words)})
    assert signs == [{"quiet"}, {"late"}]


def test_a_summary_goes_through_no_history_and_makes_no_agenda_anew(phone, monkeypatch):
    """What it tells was read with each tap, while the keeper walked on."""
    phone.set_up(6)
    round_ = phone.start(AMITRAZ).begin()
    for hive in phone.hives():
        round_.tap(hive)
        round_.ready_next()
    monkeypatch.setattr(Book, "history", None)
    monkeypatch.setattr("fieldapp.book.book.hive_agenda", None)
    parts = summary(phone.notebook, round_)
    assert [SPEAK(line) for line in parts.done] == ["Hives 1-6: 2 pieces"]
    assert parts.next
