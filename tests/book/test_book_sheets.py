"""The sheets that a book keeps for the first page: what the rules would answer, or none."""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent.parent / "husbandry"))

from pouring import Pour, opened
from rules_random import looked_after
from rules_season import HIVE, Season

from fieldapp.book import file
from fieldapp.book.book import SHEETS_AHEAD, Book
from fieldapp.book.closed import ClosedBook
from fieldapp.book.codec import Damaged
from fieldapp.book.sheet import Sheet, freeze, thaw
from fieldapp.husbandry.answers import Line, Reason
from fieldapp.journal import chain
from fieldapp.journal.batches import Batch
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import encode
from fieldapp.words import Degrees, say

DAY = date(2026, 8, 22)


class Kept:
    """A season in a journal, and the book's file with the sheets of some days, closed."""

    def __init__(self, folder: Path) -> None:
        self.season = Season()
        self.terms = self.season.terms(
            form="pieces", supers="off", period=14, stay=[{"when": "any", "least": 42, "most": 56}]
        )
        self.season.apply(self.terms, "2026-07-01", pieces=2)
        self.path = folder / "book.db"
        self.journal = opened(folder / "journal.db")
        self.pour = Pour(self.journal)
        self.pour(self.season.records)
        self.keep()

    def keep(self) -> None:
        """Open the book and close it, with the sheets kept."""
        with closing(Book.open(self.journal, self.path)) as book:
            book.keep()
            book.keep_sheets(DAY)

    def sheet(self, day: date = DAY) -> Sheet | None:
        """Return what a fresh start is given."""
        return ClosedBook(self.journal, self.path).sheet(day)

    def made(self, day: date = DAY) -> Sheet:
        """Return what the rules answer, from the records alone."""
        with closing(Book.open(self.journal)) as book:
            return book.sheet(day)

    def say(self, statement: str, *values: object) -> None:
        """Change the book's file behind the program."""
        with closing(sqlite3.connect(self.path)) as connection, connection:
            assert connection.execute(statement, values).rowcount


@pytest.fixture
def kept(tmp_path: Path) -> Iterator[Kept]:
    """A book that was closed."""
    made = Kept(tmp_path)
    with made.journal:
        yield made


def test_a_kept_sheet_is_what_the_rules_answer_on_each_of_its_days(kept: Kept) -> None:
    """The strips become late within these days, so the lines are not the same on all."""
    days = [DAY + timedelta(days=n) for n in range(SHEETS_AHEAD)]
    sheets = [kept.sheet(day) for day in days]
    assert sheets == [kept.made(day) for day in days]
    assert len({sheet.lines for sheet in sheets if sheet is not None}) > 1
    assert kept.sheet(days[-1] + timedelta(days=1)) is None
    assert kept.sheet(DAY - timedelta(days=1)) is None


@given(st.integers(0, 10**9), st.integers(0, 400))
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_sheets_of_any_history_are_what_the_rules_answer(
    tmp_path_factory: pytest.TempPathFactory, seed: int, since: int
) -> None:
    """A day asked weeks after the last record, or in the middle of the history."""
    folder, day = tmp_path_factory.mktemp("sheet"), date(2026, 1, 1) + timedelta(days=since)
    with opened(folder / "journal.db") as journal:
        Pour(journal)(looked_after(seed))
        with closing(Book.open(journal, folder / "book.db")) as book:
            book.keep()
            book.keep_sheets(day)
        for asked in (day, day + timedelta(days=SHEETS_AHEAD - 1)):
            with closing(Book.open(journal)) as fresh:
                assert ClosedBook(journal, folder / "book.db").sheet(asked) == fresh.sheet(asked)


def test_the_sheet_of_another_day_is_not_given_for_this_one(kept: Kept) -> None:
    """Not even where its row came to stand under this day."""
    other = (DAY + timedelta(days=1)).toordinal()
    kept.say("DELETE FROM sheet WHERE day = ?", DAY.toordinal())
    kept.say("UPDATE sheet SET day = ? WHERE day = ?", DAY.toordinal(), other)
    assert kept.sheet() is None


def test_one_more_record_and_no_sheet_is_given_until_it_was_taken_in(kept: Kept) -> None:
    """As a sync brings it while the book is closed; then the sheets are made anew."""
    kept.season.pieces("out", kept.terms, "2026-08-20", 2)
    kept.pour(kept.season.records[-1:])
    assert kept.sheet() is None
    kept.keep()
    assert kept.sheet() == kept.made()


def test_a_sheet_given_before_is_not_given_again_after_a_record_came(kept: Kept) -> None:
    """One who asked already asks again."""
    book, tomorrow = ClosedBook(kept.journal, kept.path), DAY + timedelta(days=1)
    assert [book.sheet(day) for day in (DAY, tomorrow)] == [kept.made(DAY), kept.made(tomorrow)]
    kept.season.add("look", "2026-08-20", {"brood": "none"}, hive=HIVE)
    kept.pour(kept.season.records[-1:])
    assert book.sheet(DAY) is None


def test_another_content_under_a_known_id_and_no_sheet_is_given(kept: Kept) -> None:
    """It takes part in no rule, but states rest on there being none."""
    root = kept.season.records[-1].id
    kept.season.add("note", "2026-08-20", {"words": "in the rain"}, None, adds_to=root)
    known = kept.season.records[-1]
    kept.pour([known])
    kept.keep()
    words = (f"in the sun, {number}" for number in range(100))
    raws = (encode(known._replace(body={"words": each}, writer="1" * 32, seq=1)) for each in words)
    # Of two contents the smaller digest counts.
    raw = next(each for each in raws if sha256(each).digest() > sha256(encode(known)).digest())
    before = chain.start(writer := bytes.fromhex("1" * 32))
    receive(kept.journal, [Batch(writer, 1, before, chain.link(before, raw), (raw,))])
    assert kept.journal.other_contents()
    assert kept.sheet() is None


def test_what_counts_changed_otherwise_than_by_records_and_no_sheet_is_given(kept: Kept) -> None:
    """As after a repair or a restore."""
    with kept.journal.connections.writing() as connection:
        connection.execute("UPDATE replica SET generation = generation + 1")
    assert kept.sheet() is None


def test_other_rules_and_no_sheet_is_given(kept: Kept, monkeypatch: pytest.MonkeyPatch) -> None:
    """A later program, and one that understands other records."""
    with monkeypatch.context() as later:
        later.setattr("fieldapp.book.closed.RULES", "later")
        assert kept.sheet() is None
    with monkeypatch.context() as later:
        later.setattr(file, "VOCABULARY", "later")
        assert kept.sheet() is None
    assert kept.sheet() is not None


@pytest.mark.parametrize(
    "altered",
    [
        "UPDATE sheet SET value = replace(value, 'late', 'due')",
        "UPDATE sheet SET value = substr(value, 1, 8) || '[]'",
        "UPDATE sheet SET value = ''",
        "UPDATE meta SET value = value || '0' WHERE name = 'arrival'",
        "UPDATE meta SET value = '' WHERE name = 'stands'",
        "DELETE FROM meta WHERE name = 'arrival'",
    ],
)
def test_an_altered_file_gives_no_sheet(kept: Kept, altered: str) -> None:
    """The first page then waits for the rules."""
    kept.say(altered)
    assert kept.sheet(DAY + timedelta(days=SHEETS_AHEAD - 1)) is None


def test_no_file_or_another_one_gives_no_sheet(kept: Kept) -> None:
    """And none is made by asking."""
    kept.path.write_bytes(b"not a database" * 500)
    assert kept.sheet() is None
    kept.path.unlink()
    assert kept.sheet() is None
    assert not kept.path.exists()


def test_a_book_that_took_in_more_than_it_kept_keeps_no_sheets(kept: Kept) -> None:
    """They would stand beside states of before."""
    with closing(Book.open(kept.journal, kept.path)) as book:
        kept.season.pieces("out", kept.terms, "2026-08-20", 2)
        kept.pour(kept.season.records[-1:])
        book.refresh()
        book.keep_sheets(DAY)
        assert kept.sheet() is None
        book.keep()
        book.keep_sheets(DAY)
    assert kept.sheet() == kept.made()


def test_a_full_disk_under_the_sheets_costs_nothing_but_time(kept: Kept) -> None:
    """The book's other answers stand, and its file too."""
    with closing(Book.open(kept.journal, kept.path)) as book:
        book._keeping._connection.execute("PRAGMA max_page_count = 1")
        book.keep_sheets(DAY + timedelta(days=400))
        assert book.agenda(DAY) == list(kept.made().lines)
    assert kept.sheet() == kept.made()


def test_whatever_a_phrase_holds_comes_back() -> None:
    """Every kind of argument, phrases in phrases, days left open, no reason at all."""
    inner = say("hives {n}", n=3)
    what = say("{a} {b} {c} {d} {e}", a=inner, b=DAY, c=Degrees(29.5, True), d=2.5, e="é {x}")
    reason = Reason(what, ("r1", "r2"), "source", "read")
    lines = (
        Line("apply", "a", None, "ask", DAY, None, None, ("h1", "h2"), what, (reason,)),
        Line("buy", None, "t", "late", None, None, DAY, (), inner, ()),
    )
    sheet = Sheet(DAY, lines, (), {"a": 2})
    assert thaw(freeze(sheet)) == sheet
    with pytest.raises(Damaged):
        thaw(freeze(sheet).replace("h1", "h3"))
