"""The record book of the demo season, from its real journals."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldapp.assets import folder
from fieldapp.demo.phones import write_phones
from fieldapp.demo.season import KEEPERS_PHONE, TODAY, season
from fieldapp.husbandry.library import load
from fieldapp.journal.store import Journal
from fieldapp.papers import RecordBook, Source, gather, record_book
from fieldapp.papers.pdf import as_pdf
from fieldapp.papers.tables_csv import csv_files
from fieldapp.papers.text import as_text
from fieldapp.words import Speech


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Source:
    """Everything on the keeper's phone."""
    where: Path = tmp_path_factory.mktemp("demo")
    paths = write_phones(season(load(folder("treatments"))), where)
    with Journal.open(paths[KEEPERS_PHONE], now_ms=lambda: 0, entropy=bytes) as journal:
        return gather(journal)


@pytest.fixture(scope="module")
def book(source: Source) -> RecordBook:
    return record_book(source, TODAY)


def test_every_application_that_holds_is_in_the_book(source, book):
    """None lost, the slip of the finger left out and counted."""
    written = {r.id for r in source.records if r.kind == "application" and r.corrects is None}
    taken_back = {r.corrects for r in source.records if r.kind == "application" and r.void}
    assert {each.record.id for each in book.treated} == written - taken_back
    assert (book.tally.slips, len(taken_back)) == (1, 1)


def test_the_books_of_the_apiaries_together_are_the_whole(source, book):
    """Each treatment stands in the book of exactly one apiary."""
    parts = [record_book(source, TODAY, place.apiary) for place in book.premises]
    apart = [each.record.id for part in parts for each in part.treated]
    assert sorted(apart) == sorted(each.record.id for each in book.treated)


def test_the_mist_without_a_label_is_a_gap_and_has_no_date(book):
    """Its withdrawal is unknown, so no day is given for its honey."""
    mist = [each for each in book.treated if each.method == "mist"]
    assert len(mist) == 2
    assert all(not e.withdrawal.known and e.honey_from is None for e in mist)


def test_the_lot_with_honey_over_forgotten_strips_is_held(book):
    """The book says which lot and because of which hive."""
    assert [each.lot for each in book.drawn if each.held]


def test_all_three_forms_are_made(book):
    """Text, PDF and CSV of a year of 24 hives."""
    speech = Speech()
    assert len(as_text(book, speech)) > 10_000
    assert as_pdf(book, speech).startswith(b"%PDF")
    assert csv_files(book, speech)["treatments.csv"].count(b"\r\n") == len(book.treated) + 1
