"""What the book answers about the demo season on its today, once both phones have met."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from fieldapp.assets import folder
from fieldapp.book.book import Book
from fieldapp.demo.phones import write_phones
from fieldapp.demo.season import HELPERS_PHONE, KEEPERS_PHONE, TODAY, season
from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.library import load
from fieldapp.journal.losses import Finder
from fieldapp.journal.merging import sync
from fieldapp.journal.replica import Host
from fieldapp.journal.store import Journal

SIGNED = Finder("test", "0" * 32, "2026-09-19T09:00:00+01:00[Europe/London]")


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """The book of the keeper's phone after the helper came home."""
    paths = write_phones(season(load(folder("treatments"))), tmp_path_factory.mktemp("phones"))
    keeper, helper = (
        Journal.open(paths[phone], now_ms=lambda: 0, entropy=bytes)
        for phone in (KEEPERS_PHONE, HELPERS_PHONE)
    )
    with keeper, helper:
        assert sync(keeper, Host(helper, SIGNED), SIGNED).equal
        book = Book.open(keeper)
        book.refresh()
        yield book
        book.close()


def numbers(book: Book, line: Line) -> set[str]:
    return {book.hive(hive).number or "" for hive in line.hives}


def found(book: Book, task: str, timing: str, word: str = "") -> list[set[str]]:
    """The hives, by number, of each line of the agenda of this task and timing."""
    return [
        numbers(book, line)
        for line in book.agenda(TODAY)
        if (line.task, line.timing) == (task, timing) and word in (line.treatment or "")
    ]


def hive(book: Book, number: str) -> str:
    [known] = [
        stop.hive
        for apiary in book.apiaries(TODAY)
        for stop in book.walk(apiary.id, TODAY)
        if stop.number == number
    ]
    return known


def test_one_round_of_vapour_is_due_and_one_is_late(book: Book) -> None:
    """Ten hives' fifth today, and the two that were left out when the acid ran out."""
    ten = {str(number) for number in range(1, 11)}
    assert found(book, "apply", "due", "sublimation") == [ten]
    assert found(book, "apply", "late", "sublimation") == [{"11", "12"}]


def test_forgotten_strips_stand_first(book: Book) -> None:
    """Last autumn's strips of 23 and 26 are the first line of the agenda."""
    first = book.agenda(TODAY)[0]
    assert (first.task, first.timing) == ("remove", "late")
    assert numbers(book, first) == {"23", "26"}


def test_what_only_somebody_can_know_is_asked(book: Book) -> None:
    """The mist's period, the strip that was not found, and hive 7 that two people logged."""
    assert found(book, "period", "ask") == [{"11", "12"}]
    assert found(book, "pieces", "ask") == [{"24"}]
    asked = [question for question in book.questions() if question.what == "twice"]
    assert [question.hive for question in asked] == [hive(book, "7")]


def test_the_mist_leaves_honey_not_known(book: Book) -> None:
    """No period, no end: never open, and no date is made up."""
    for number in ("11", "12"):
        honey = book.honey(hive(book, number), TODAY)
        assert honey.state == "not known"
        assert honey.honey_from is None


def test_the_lot_drawn_over_a_strip_is_held(book: Book) -> None:
    """A strip was found in 25 after its honey had been drawn: that lot and no other."""
    assert {lot.lot for lot in book.lots() if lot.held} == {"QT-2026-1"}


def test_strips_in_all_of_quarry_top_wait_for_a_look(book: Book) -> None:
    """Today is the day from which the brood decides whether strips come out."""
    assert found(book, "look_brood", "due", "amitraz") == [set(map(str, range(21, 28)))]


def test_the_second_sponge_of_the_swarm_is_late(book: Book) -> None:
    """Hive 35 still has its first sponge in, and no second."""
    assert found(book, "apply", "late", "thymol") == [{"35"}]


def test_a_split_in_the_middle_of_a_withdrawal_hands_the_closed_days_on(book: Book) -> None:
    """Hive 9 was closed for three weeks after 27 April; the part in hive 5 is closed with it."""
    for number in ("9", "5"):
        assert book.honey(hive(book, number), date(2026, 5, 12)).state == "closed"
        assert book.honey(hive(book, number), date(2026, 5, 19)).state == "open"


def test_hive_7_counts_once_though_two_logged_it(book: Book) -> None:
    """Until it is answered they are one application: four of five given, as in hive 6."""
    words = {
        number: next(
            view.words.args
            for view in book.courses(hive(book, number), TODAY)
            if "sublimation" in view.course.treatment
        )
        for number in ("6", "7")
    }
    assert words["6"] == words["7"]
