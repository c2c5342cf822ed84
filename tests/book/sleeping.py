"""One history told to a book that sleeps now and then, and to one that never does."""

from __future__ import annotations

from contextlib import closing
from datetime import date
from pathlib import Path
from random import Random

from pouring import Pour, opened

from fieldapp.book import Book
from fieldapp.husbandry.operation import fold_all
from fieldapp.journal.record import Record


def sleeps_and_wakes(folder: Path, arrived: list[Record], chance: Random, day: date) -> None:
    """Hold a book that is closed and opened at random moments to one that stays open.

    After each batch both touched the same hives and ask the same; in the end all states are
    those of folding from scratch, and so is what the agenda of `day` says.
    """
    left = list(arrived)
    with (
        opened(folder / "journal.db") as journal,
        closing(Book.open(journal)) as awake,
    ):
        pour = Pour(journal)
        book = Book.open(journal, folder / "book.db")
        while left:
            size = chance.randint(1, 12)
            batch, left = left[:size], left[size:]
            pour(batch)
            for hive in book.refresh() | awake.refresh():
                assert book.hive(hive) == awake.hive(hive)
            if chance.random() < 0.6:
                book.close()
                book = Book.open(journal, folder / "book.db")
                assert book.agenda(day) == awake.agenda(day)
        with closing(book), closing(Book.open(journal)) as fresh:
            for hive, state in fold_all(arrived).items():
                assert book.hive(hive) == awake.hive(hive) == state
            for other in (awake, fresh):
                assert other.agenda(day) == book.agenda(day)
                assert other.questions() == book.questions()
                assert other.lots() == book.lots()
