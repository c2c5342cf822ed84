"""What the first page is made from: the sheet that was kept, as long as it is of this moment."""

from __future__ import annotations

from datetime import date

import pytest
from rounds_phone import Phone

from fieldapp.bootstrap import close
from fieldapp.rounds.apiaries import places
from fieldapp.rounds.due import Due
from fieldapp.rounds.notebook import Notebook

AMITRAZ = "Amitraz strips"


@pytest.fixture
def folder(tmp_path):
    """A phone's folder: four hives got strips 40 days ago, and the program was closed."""
    phone = Phone(tmp_path)
    phone.set_up(4)
    treatment = next(each for each in phone.notebook.library if each.name == AMITRAZ).identity
    round_ = phone.start(treatment).begin()
    for spot in round_.spots:
        round_.tap(spot.hive)
    round_.end()
    phone.time.pass_(40 * 86_400)
    close(phone.kit)
    return tmp_path


def opened(folder, zone: str = "Europe/London", hours: float = 0) -> Phone:
    """Open the program 40 days and so many hours after the round."""
    return Phone(folder, zone, 40 * 86_400 + hours * 3600)


def by_the_rules(notebook: Notebook):
    """Return what the book answers for today, once it is open."""
    return notebook.book.sheet(notebook.today())


def test_a_start_tells_the_agenda_before_the_book_is_open(folder):
    """Lines, apiaries and the country of the habits, on each of the days kept ahead."""
    for days in range(8):
        phone = opened(folder, hours=24 * days)
        assert phone.notebook.country == "GB"
        told = phone.notebook.sheet(), Due(phone.notebook).lines(), places(phone.notebook, None)
        assert not phone.notebook.is_open
        assert told[0] == by_the_rules(phone.notebook)
        assert phone.notebook.is_open
        assert told[1:] == (Due(phone.notebook).lines(), places(phone.notebook, None))
        phone.kit.notebook.journal.close()


def test_in_another_zone_the_agenda_is_that_of_its_day(folder):
    """London's evening is the next morning in Auckland; the day decides, not the moment."""
    days = []
    for zone in ("Europe/London", "Pacific/Auckland"):
        phone = opened(folder, zone, hours=13)
        days.append(phone.notebook.sheet().day)
        assert phone.notebook.sheet() == by_the_rules(phone.notebook)
        assert phone.notebook.sheet().day == phone.notebook.today()
        phone.kit.notebook.journal.close()
    assert days == [date(2026, 8, 10), date(2026, 8, 11)]


def test_a_write_before_the_book_is_open_is_in_the_agenda(folder):
    """Whatever is written opens the book and takes that in."""
    phone = opened(folder)
    notebook = phone.notebook
    before = notebook.sheet()
    phone.write(
        "hive", {"number": "9", "stand": 9}, apiary=before.places[0].id, hive=notebook.new_id()
    )
    after = notebook.sheet()
    assert after == by_the_rules(notebook)
    assert list(after.walks.values()) == [5]
    close(phone.kit)


def test_the_agenda_rests_on_records_and_never_on_the_library(folder):
    """What a label says went into the records with the round: another library changes no line."""
    phone = opened(folder)

    def unread():
        raise AssertionError("the library was read")

    phone.notebook._load_library = unread
    assert phone.notebook.sheet() == by_the_rules(phone.notebook)
    assert any(line.task == "remove" for line in phone.notebook.sheet().lines)
    close(phone.kit)


def test_two_weeks_later_the_agenda_comes_from_the_rules(folder):
    """Nothing was kept for that day; closing keeps it for the days from then on."""
    phone = opened(folder, hours=24 * 14)
    assert phone.notebook.sheet() == by_the_rules(phone.notebook)
    close(phone.kit)
    phone = opened(folder, hours=24 * 14)
    phone.notebook.sheet()
    assert not phone.notebook.is_open
    close(phone.kit)
