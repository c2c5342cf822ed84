"""The book: answers from a real journal, kept states, and what is left when they are lost."""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent.parent / "husbandry"))

from pouring import Pour, opened
from rules_random import looked_after, random_history
from rules_season import APIARY, HIVE, OTHER, Season
from sleeping import sleeps_and_wakes

from fieldapp.book.book import Book
from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.operation import fold_all
from fieldapp.husbandry.recent import recent
from fieldapp.journal.store import Journal

DAY = date(2026, 9, 1)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    """A journal in a file."""
    with opened(tmp_path / "journal.db") as made:
        yield made


def strips_season() -> tuple[Season, str]:
    """Return a season with strips in two hives."""
    season = Season()
    terms = season.terms(
        form="pieces", supers="off", period=14, stay=[{"when": "any", "least": 42, "most": 56}]
    )
    season.apply(terms, "2026-07-01", pieces=2)
    season.apply(terms, "2026-07-01", pieces=2, hive=OTHER)
    return season, terms


def test_the_agenda_has_one_line_for_all_hives_of_a_task(journal: Journal) -> None:
    """Nobody gets two reminders for two hives, and late comes first."""
    season, _ = strips_season()
    Pour(journal)(season.records)
    with closing(Book.open(journal)) as book:
        lines = book.agenda(DAY)
    assert (lines[0].task, lines[0].timing, lines[0].hives) == ("remove", "late", (HIVE, OTHER))


def test_the_walk_is_in_the_order_of_stands_then_numbers(journal: Journal) -> None:
    """Hive 3 stands first; a hive that was sold is left out."""
    season = Season()
    third = season.records[-1].hive
    season.add("hive", "2026-01-01", {"number": "3", "stand": 1}, hive=third, apiary=APIARY)
    season.add("hive", "2026-01-01", {"number": "2", "ended": "sold"}, hive=OTHER, apiary=APIARY)
    Pour(journal)(season.records)
    with closing(Book.open(journal)) as book:
        assert [stop.number for stop in book.walk(APIARY, DAY)] == ["3", "1"]
        assert [(place.name, place.hives) for place in book.apiaries(DAY)] == [("Ferry Lane", 2)]


def test_refresh_folds_the_touched_hive_only(journal: Journal) -> None:
    """One more record of one hive changes that hive."""
    season, terms = strips_season()
    pour = Pour(journal)
    pour(season.records)
    with closing(Book.open(journal)) as book:
        season.pieces("out", terms, "2026-08-20", 2)
        pour(season.records[-1:])
        assert book.refresh() == {HIVE}
        assert book.honey(HIVE, DAY).honey_from == date(2026, 9, 4)
        assert book.refresh() == frozenset()


def test_history_shows_corrections_as_corrections(journal: Journal) -> None:
    """Newest first, with what was said at first and what holds."""
    season, terms = strips_season()
    root = season.pieces("out", terms, "2026-08-20", 2)
    season.correct(root, day="2026-08-21")
    season.add("note", "2026-08-22", {"words": "in the rain"}, None, adds_to=root)
    Pour(journal)(season.records)
    with closing(Book.open(journal)) as book:
        newest = book.history(HIVE)[0]
    assert (newest.root.day, newest.holds.day) == ("2026-08-20", "2026-08-21")
    assert [annex.kind for annex in newest.annexes] == ["note"]
    assert not newest.void


def test_an_annex_taken_back_stands_apart_and_is_no_entry_of_its_own(
    journal: Journal, tmp_path: Path
) -> None:
    """Whether its void arrived before or after it, and after the book was opened anew."""
    season, terms = strips_season()
    root = season.pieces("out", terms, "2026-08-20", 2)
    first, second = (
        season.add("note", "2026-08-22", {"words": words}, None, adds_to=root)
        for words in ("in the rain", "wind")
    )
    season.correct(first, void=True)
    pour = Pour(journal)
    pour(season.records)
    for _ in range(2):
        with closing(Book.open(journal, tmp_path / "book.db")) as book:
            newest = book.history(HIVE)[0]
            assert "note" not in {each.root.kind for each in book.history(HIVE)}
        assert (newest.root.id, newest.corrections) == (root, ())
        assert [each.id for each in newest.annexes] == [second]
        assert [each.id for each in newest.withdrawn] == [first]


def test_lots_name_what_went_in_and_what_to_hold(journal: Journal) -> None:
    """Both directions, with the records that say why."""
    season, _ = strips_season()
    takes = [{"hive": HIVE}, {"hive": OTHER}]
    season.add("harvest", "2026-07-10", {"lot": "L1", "takes": takes}, None)
    season.add("harvest", "2026-06-10", {"lot": "L0", "takes": takes[:1]}, None)
    Pour(journal)(season.records)
    with closing(Book.open(journal)) as book:
        early, late = book.lots()
    assert (early.lot, early.held, len(late.takes), len(late.held)) == ("L0", (), 2, 2)


def test_a_question_is_asked_in_words(journal: Journal) -> None:
    """Two heads of one record are a question without a hive's state."""
    season, terms = strips_season()
    root = season.pieces("out", terms, "2026-08-20", 2)
    season.correct(root, day="2026-08-21")
    season.correct(root, day="2026-08-22")
    Pour(journal)(season.records)
    with closing(Book.open(journal)) as book:
        asked = [question for question in book.questions() if question.what == "heads"]
    assert asked[0].records == (root,)
    assert asked[0].hive == HIVE


@given(st.integers(0, 10**9), st.integers(0, 10**9))
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_kept_states_equal_folding_from_the_first_record(
    tmp_path_factory: pytest.TempPathFactory, seed: int, order: int
) -> None:
    """Closed and opened again between batches in any order: states and agenda are the same."""
    chance = Random(order)
    records = random_history(seed)
    chance.shuffle(records)
    sleeps_and_wakes(tmp_path_factory.mktemp("book"), records, chance, DAY)


@given(st.integers(0, 10**9), st.integers(0, 500), st.integers(0, 200))
@settings(max_examples=120, deadline=None)
def test_the_recent_part_gives_the_same_agenda_from_its_day_on(
    seed: int, since: int, later: int
) -> None:
    """What is left out of a state for speed is never needed."""
    first = date(2026, 1, 1).toordinal() + since
    for state in fold_all(looked_after(seed)).values():
        day = date.fromordinal(first + later)
        assert hive_agenda(recent(state, first), day) == hive_agenda(state, day)


def spoil_nothing(path: Path) -> None:
    """Leave the file as it is."""


def spoil_delete(path: Path) -> None:
    """Delete the file."""
    path.unlink()


def spoil_bytes(path: Path) -> None:
    """Damage the file from its first byte on."""
    path.write_bytes(b"not a database" * 500)


def spoil_rules(path: Path) -> None:
    """Let it be of other rules."""
    _say_otherwise(path, "rules")


def spoil_stands(path: Path) -> None:
    """Let it come from another vocabulary or another generation of the journal."""
    _say_otherwise(path, "stands")


def _say_otherwise(path: Path, remark: str) -> None:
    """Change a remark of the file, and what it keeps, so that using it would show."""
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE meta SET value = 'other' WHERE name = ?", (remark,))
        connection.execute("DELETE FROM state")


@pytest.mark.parametrize(
    "spoil", [spoil_nothing, spoil_delete, spoil_bytes, spoil_rules, spoil_stands]
)
def test_losing_the_books_file_costs_time_never_truth(
    journal: Journal, tmp_path: Path, spoil: Callable[[Path], None]
) -> None:
    """Deleted, damaged or of other rules: the same agenda."""
    season, _ = strips_season()
    Pour(journal)(season.records)
    path = tmp_path / "book.db"
    with closing(Book.open(journal, path)) as book:
        before = book.agenda(DAY)
    spoil(path)
    with closing(Book.open(journal, path)) as book:
        assert book.agenda(DAY) == before


def test_a_book_that_cannot_be_written_goes_on_in_memory(journal: Journal, tmp_path: Path) -> None:
    """A folder where the file should be: answers all the same, and no error."""
    season, _ = strips_season()
    Pour(journal)(season.records)
    (tmp_path / "book.db").mkdir()
    with closing(Book.open(journal, tmp_path / "book.db")) as book:
        assert book.agenda(DAY)[0].task == "remove"
        book.keep()


def test_a_full_disk_under_the_book_costs_nothing_but_time(
    journal: Journal, tmp_path: Path
) -> None:
    """The file can grow no more: the answers are right, the journal is untouched."""
    season, terms = strips_season()
    pour = Pour(journal)
    pour(season.records)
    book = Book.open(journal, tmp_path / "book.db")
    book.keep()
    book._keeping._connection.execute("PRAGMA max_page_count = 1")
    for day in range(1, 29):
        season.add("look", f"2026-08-{day:02}", {"brood": "none", "words": "x" * 900})
    season.pieces("out", terms, "2026-08-20", 2)
    pour(season.records[-29:])
    book.refresh()
    book.keep()
    assert book.honey(HIVE, DAY).honey_from == date(2026, 9, 4)
    book.close()


def test_hives_sleep_until_a_record_touches_them(journal: Journal, tmp_path: Path) -> None:
    """Opening from kept states wakes none; one more record wakes one."""
    season, terms = strips_season()
    pour = Pour(journal)
    pour(season.records)
    Book.open(journal, tmp_path / "book.db").close()
    with closing(Book.open(journal, tmp_path / "book.db")) as book:
        assert len(book._operation.asleep) == 3
        book.agenda(DAY)
        season.pieces("out", terms, "2026-08-20", 2)
        pour(season.records[-1:])
        book.refresh()
        assert len(book._operation.asleep) == 2


def test_the_next_record_of_a_woken_hive_reads_none_of_before(
    journal: Journal, tmp_path: Path
) -> None:
    """Neither its own nor those of its marked supers; it is the same hive, asleep or awake."""
    season, terms = strips_season()
    season.add("super_on", "2026-07-02", {"mark": "A"})
    pour = Pour(journal)
    pour(season.records)
    Book.open(journal, tmp_path / "book.db").close()
    with closing(Book.open(journal, tmp_path / "book.db")) as book:
        asleep = book.hive(HIVE)
        book.wake(HIVE)
        assert book.hive(HIVE) == asleep
        read: list[str] = []
        by_ids = book._keeping._by_ids
        book._keeping._by_ids = lambda names: read.extend(names) or by_ids(names)
        season.pieces("out", terms, "2026-08-20", 2)
        pour(season.records[-1:])
        assert book.refresh() == {HIVE}
        assert read == []
        assert book.honey(HIVE, DAY).honey_from == date(2026, 9, 4)


def test_a_hive_wakes_beside_records_that_no_rule_reads(journal: Journal, tmp_path: Path) -> None:
    """Feed given and a hive passed over stand in a history, and in the way of nothing."""
    season, terms = strips_season()
    walk = season.add("round", "2026-07-20", {"task": "feed", "hives": [HIVE]}, None)
    season.add("feed", "2026-07-20", {"what": "syrup", "amount": 3, "unit": "L"})
    season.add("skip", "2026-07-21", {"round": walk, "why": "not needed"})
    pour = Pour(journal)
    pour(season.records)
    Book.open(journal, tmp_path / "book.db").close()
    with closing(Book.open(journal, tmp_path / "book.db")) as book:
        season.pieces("out", terms, "2026-08-20", 2)
        pour(season.records[-1:])
        assert book.refresh() == {HIVE}
        assert book.honey(HIVE, DAY).honey_from == date(2026, 9, 4)
        assert {entry.root.kind for entry in book.history(HIVE)} >= {"feed", "skip"}
