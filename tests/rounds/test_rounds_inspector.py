"""What an inspector is shown: gaps first, each treatment with what a law asks, nothing written."""

from __future__ import annotations

import pytest

from fieldapp.papers import gather, record_book
from fieldapp.rounds.inspector import AT_ONCE, Inspector
from fieldapp.words import Speech

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
DAY = 86_400


@pytest.fixture
def shown(phone):
    """Strips in three hives on 1 July; on the next day in one of a second apiary."""
    phone.set_up(3)
    first = phone.notebook.local.get("apiary")
    treat(phone)
    phone.time.pass_(DAY)
    phone.set_up(1)
    treat(phone)
    phone.notebook.local.put("apiary", first)
    return phone


def treat(phone) -> None:
    round_ = phone.start(AMITRAZ).begin()
    for hive in phone.hives():
        round_.tap(hive)
    round_.end()


def inspector(phone) -> Inspector:
    return Inspector(
        phone.notebook, Speech(), background=lambda work: work(), main=lambda work: work()
    )


def texts(entry) -> list[str]:
    speak = Speech()
    return [speak(entry.title), *(speak(words) for _, words in entry.lines)]


def test_each_treatment_names_day_hives_what_how_much_lot_whom_and_period(shown):
    """The latest first; hives that were given the same stand together."""
    looked = inspector(shown)
    looked.begin(None)
    last, first = (texts(entry) for entry in looked.shown.entries)
    assert last[0] == "2 Jul 2026: hive 1, Apiary 2"
    assert first[0] == "1 Jul 2026: hive 1, 2, 3, Apiary 1"
    assert first[1].startswith("Amitraz strips; ")
    assert first[2] == "How much: 2 pieces"
    assert first[3] == "Lot: not known"
    assert first[4] == "By: Keeper"
    assert first[5].startswith("Honey withheld: ")
    assert first[6] == "Honey from: not known"
    signs = dict(zip(first[1:], [sign for sign, _ in looked.shown.entries[1].lines], strict=True))
    assert signs["Lot: not known"] == "unknown"


def test_gaps_are_those_of_the_record_book(shown):
    """By the same names as in PDF and CSV."""
    looked = inspector(shown)
    looked.begin(None)
    book = record_book(gather(shown.notebook.journal), shown.notebook.today(), None)
    assert book.gaps
    assert looked.shown.gaps == tuple(each.words for each in book.gaps)


def test_one_apiary_shows_nothing_of_another(shown):
    """Asked for one place, its treatments only, without the place's name at each."""
    looked = inspector(shown)
    looked.begin(shown.notebook.local.get("apiary"))
    assert [texts(entry)[0] for entry in looked.shown.entries] == ["1 Jul 2026: hive 1, 2, 3"]


def test_nothing_is_written_and_it_goes_on_until_it_is_left(shown):
    """Not a record more; another start of the program shows it again."""
    before = shown.notebook.journal.count()
    looked = inspector(shown)
    assert not looked.goes_on
    looked.begin(None)
    again = inspector(shown)
    assert again.goes_on
    again.go_on()
    assert again.shown == looked.shown
    again.leave()
    assert not inspector(shown).goes_on
    assert shown.notebook.journal.count() == before


def test_years_of_treatments_come_in_parts_that_leave_none_out(phone):
    """Twenty days of treatments, each once, the latest in the first part."""
    phone.set_up(1)
    for _ in range(20):
        round_ = phone.start(AMITRAZ).begin()
        round_.tap(phone.hives()[0])
        round_.end()
        phone.time.pass_(DAY)
    looked = inspector(phone)
    looked.begin(None)
    *parts, register = [looked.shown.part(at) for at in range(looked.shown.parts)]
    assert [texts(entry)[0] for entry in register] == ["1 Jul 2026: Hive came, hive 1, Apiary 1"]
    assert [len(part) for part in parts] == [AT_ONCE] * (20 // AT_ONCE)
    titles = [texts(entry)[0] for part in parts for entry in part]
    assert len(set(titles)) == 20
    assert titles[0].startswith("20 Jul 2026")


def test_the_register_follows_the_treatments(shown):
    """Counts, visits and movements of the place, the latest first; hives of one line together."""
    apiary = shown.notebook.local.get("apiary")
    shown.write("visit", {"by": "the office", "standstill": "set"}, apiary=apiary)
    shown.time.pass_(DAY)
    shown.write("colony_count", {"number": 3, "reported_to": "the district"}, apiary=apiary)
    looked = inspector(shown)
    looked.begin(apiary)
    last = looked.shown.parts - 1
    assert [looked.shown.begins_register(at) for at in range(last + 1)] == [False, True]
    assert [texts(entry) for entry in looked.shown.part(last)] == [
        ["3 Jul 2026: Colonies counted", "3 colonies, reported to the district", "By: Keeper"],
        ["2 Jul 2026: Visit", "the office: no findings. Standstill set.", "By: Keeper"],
        ["1 Jul 2026: Hive came, hive 1, 2, 3", "first stands at Apiary 1", "By: Keeper"],
    ]
