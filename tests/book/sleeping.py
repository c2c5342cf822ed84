"""One history told to a book that sleeps now and then, and to one that never does."""

from __future__ import annotations

from contextlib import closing
from datetime import date
from pathlib import Path
from random import Random
from unittest.mock import patch

from pouring import Pour, opened

from fieldapp.book.book import Book
from fieldapp.husbandry.operation import fold_all
from fieldapp.journal.record import Record


def sleeps_and_wakes(folder: Path, arrived: list[Record], chance: Random, day: date) -> None:
    """Hold a book that sleeps and wakes at random moments to one that stays awake.

    It is closed and opened, or lets its hives sleep without being closed, or wakes one early.

    After each batch both touched the same hives and ask the same; in the end all states are
    those of folding from scratch, and so is what the agenda of `day` says.
    """
    left = list(arrived)
    with (
        opened(folder / "journal.db") as journal,
        closing(Book.open(journal)) as awake,
        patch("fieldapp.book.current._AWAKE", 1),
    ):
        pour = Pour(journal)
        book = Book.open(journal, folder / "book.db")
        while left:
            size = chance.randint(1, 12)
            batch, left = left[:size], left[size:]
            pour(batch)
            for hive in book.refresh() | awake.refresh():
                assert book.hive(hive) == awake.hive(hive)
            does = chance.choice(("nothing", "close", "close", "keep", "keep", "wake"))
            if does == "close":
                book.close()
                book = Book.open(journal, folder / "book.db")
            elif does == "keep":
                book.keep()
            elif does == "wake":
                for state in chance.sample(awake.states(), min(1, len(awake.states()))):
                    book.wake(state.hive)
            assert book.agenda(day) == awake.agenda(day)
            _remembers_in_part(book, chance)
        with closing(book), closing(Book.open(journal)) as fresh:
            for hive, state in fold_all(arrived).items():
                assert book.hive(hive) == awake.hive(hive) == state
            for other in (awake, fresh):
                assert other.agenda(day) == book.agenda(day)
                assert other.questions() == book.questions()
                assert other.lots() == book.lots()


def _remembers_in_part(book: Book, chance: Random) -> None:
    """Hold what is told of a hive since a day, or after a stamp, to all that is told of it."""
    states = book.states()
    for state in chance.sample(states, min(1, len(states))):
        whole = book.history(state.hive)
        for entry in chance.sample(whole, min(3, len(whole))):
            day, stamp = entry.holds.day, entry.root.stamp
            since, after = date.fromisoformat(day), chance.choice(("", stamp))
            assert book.history(state.hive, after, since) == [
                each for each in whole if each.holds.day >= day and each.root.stamp > after
            ]
            assert book.history(state.hive, stamp) == [
                each for each in whole if each.root.stamp > stamp
            ]
