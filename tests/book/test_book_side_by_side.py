"""Versions side by side of records that no rule reads: the keeper is asked of these too."""

from __future__ import annotations

import sys
from contextlib import closing
from itertools import permutations
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "husbandry"))

from pouring import Pour, opened
from rules_season import Season

from fieldapp.book.book import Book


def heads(book: Book) -> list[tuple[str, ...]]:
    """Return the records of which the book asks which version holds."""
    return [asked.records for asked in book.questions() if asked.what == "heads"]


@pytest.mark.parametrize("kept", [True, False])
def test_two_corrections_of_feed_are_asked_in_any_order(tmp_path: Path, kept: bool) -> None:
    """Also where the root comes last, and where the book slept in between."""
    for order in permutations(range(3)):
        season = Season()
        root = season.add("feed", "2026-08-20", {"what": "syrup", "amount": 3, "unit": "L"})
        season.correct(root, day="2026-08-21")
        season.correct(root, day="2026-08-22")
        told = season.records[:-3] + [season.records[place - 3] for place in order]
        folder = tmp_path / "".join(map(str, order))
        folder.mkdir()
        with opened(folder / "journal.db") as journal:
            pour = Pour(journal)
            book = Book.open(journal, folder / "book.db" if kept else None)
            for record in told:
                assert heads(book) == []
                pour([record])
                book.refresh()
                if kept:
                    book.close()
                    book = Book.open(journal, folder / "book.db")
            with closing(book):
                assert heads(book) == [(root,)]
                both = tuple(record.id for record in season.records[-2:])
                season.correct(root, both, day="2026-08-22")
                pour(season.records[-1:])
                book.refresh()
                assert heads(book) == []
