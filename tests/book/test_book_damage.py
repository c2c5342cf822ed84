"""Damage in what the book keeps costs time, never truth."""

from __future__ import annotations

import os
import sqlite3
from datetime import date
from pathlib import Path

import pytest
from rules_season import HIVE, OTHER, Season, name

from fieldapp.book.book import Book
from fieldapp.book.codec import Damaged, frozen, thawed
from fieldapp.husbandry.state import Look
from fieldapp.journal import chain
from fieldapp.journal.batches import Batch
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import encode
from fieldapp.journal.store import Journal

DAY = date(2026, 10, 20)
KEPT = [
    ("state", "recent"),
    ("state", "whole"),
    ("state", "lot"),
    ("handover", "value"),
    ("mark", "value"),
    ("meta", "value"),
]


def a_season() -> Season:
    """Two hives with strips, supers, a split and a correction side by side."""
    season = Season()
    terms = season.terms(form="pieces", period=14, supers="off")
    season.add("super_on", "2026-05-01", {"mark": "A"})
    season.add("super_on", "2026-05-01", {"count": 1})
    given = season.apply(terms, "2026-08-01", pieces=2)
    part = {"to_hive": OTHER, "to_colony": name(7), "pieces_along": 1}
    season.add("split", "2026-08-20", part, colony=name(8))
    season.pieces("out", terms, "2026-09-26", 1)
    season.correct(given, day="2026-08-02")
    season.correct(given, day="2026-08-03")
    return season


def journal_at(path: Path, season: Season) -> Journal:
    """Return a journal that holds a season."""
    journal = Journal.open(path, now_ms=lambda: 1_790_000_000_000, entropy=os.urandom)
    store(journal, season)
    return journal


def store(journal: Journal, season: Season) -> None:
    """Let a journal receive all of a season from its writer."""
    raws = tuple(encode(record) for record in season.records)
    before = digest = chain.start(bytes(16))
    for raw in raws:
        digest = chain.link(digest, raw)
    receive(journal, [Batch(bytes(16), 1, before, digest, raws)])


def answers(book: Book) -> object:
    """Return what the book says of everything."""
    hives = [HIVE, OTHER]
    return (
        book.agenda(DAY),
        [book.hive(hive) for hive in hives],
        [book.honey(hive, DAY) for hive in hives],
        book.questions(),
    )


@pytest.mark.parametrize("damage", ["{", "[]", "null", "'3' || substr({column}, 2)"])
@pytest.mark.parametrize(("table", "column"), KEPT)
def test_a_row_that_is_no_longer_what_was_written_is_made_anew(
    tmp_path: Path, table: str, column: str, damage: str
) -> None:
    """Each kept value replaced by broken JSON, by other JSON, or changed in one place."""
    season = a_season()
    with journal_at(tmp_path / "journal.db", season) as journal:
        book = Book.open(journal, tmp_path / "book.db")
        whole = answers(book)
        book.close()
        value = damage.format(column=column) if "substr" in damage else f"'{damage}'"
        with sqlite3.connect(tmp_path / "book.db") as file:
            changed = file.execute(
                f"UPDATE {table} SET {column} = {value} WHERE {column} NOT IN ('', 'rules')"
            )
            assert changed.rowcount
        book = Book.open(journal, tmp_path / "book.db")
        assert answers(book) == whole
        season.add("look", "2026-10-19", {"brood": "yes"})
        season.add("super_off", "2026-10-19", {"mark": "A"})
        store(journal, season)
        book.refresh()
        with_more = answers(book)
        book.close()
        assert with_more == answers(Book.open(journal))


def test_a_value_changed_in_one_digit_is_told() -> None:
    """A day that became another day is still JSON, and is not taken for what was written."""
    look = Look((738000, 1, "a", "b"), "yes")
    text = frozen(look)
    assert thawed(Look, text) == look
    with pytest.raises(Damaged):
        thawed(Look, text.replace("738000", "738001"))


def test_a_closed_book_is_not_taken_for_a_damaged_one(tmp_path: Path) -> None:
    """Asking after the end is a mistake of the program, and leaves the file alone."""
    with journal_at(tmp_path / "journal.db", a_season()) as journal:
        Book.open(journal, tmp_path / "book.db").close()
        book = Book.open(journal, tmp_path / "book.db")
        book.close()
        size = (tmp_path / "book.db").stat().st_size
        with pytest.raises(sqlite3.ProgrammingError):
            book.states(DAY)
        assert (tmp_path / "book.db").stat().st_size == size
