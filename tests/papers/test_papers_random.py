"""Whatever happened, the book is made, and it never says more than the rules do."""

from __future__ import annotations

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st
from paper_season import said
from rules_random import random_history

from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.operation import Operation
from fieldapp.journal.corrections import versions
from fieldapp.journal.same_as import groups
from fieldapp.journal.twice import aliases, twice
from fieldapp.papers import Source, record_book
from fieldapp.papers.pdf import as_pdf
from fieldapp.papers.tables_csv import csv_files
from fieldapp.papers.text import as_text

DAY = date(2026, 12, 1)
seeds = st.integers(0, 10**9)


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_every_application_that_holds_stands_in_the_book_once(seed):
    """Splits, unions, moves, corrections side by side: none is lost, none is doubled."""
    records = random_history(seed)
    held = [v.holds for v in versions(records).values() if not v.void]
    answered = [each for each in twice(held, held, groups(held)) if each.answer]
    applied = {record.id for record in held if record.kind == "application"}
    wanted = sorted(applied - aliases(answered).keys())
    book = record_book(Source(tuple(records), ()), DAY)
    assert sorted(each.record.id for each in book.treated) == wanted


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_no_day_for_honey_is_given_on_which_the_rules_keep_it_closed(seed):
    """The day in the book's line of a treatment is open by the rules' own answer."""
    records = random_history(seed)
    operation = Operation()
    operation.take(records)
    for each in record_book(Source(tuple(records), ()), DAY).treated:
        if each.honey_from is not None:
            assert honey(operation.state(each.record.hive), each.honey_from).state == "open"


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_all_three_forms_are_made_of_any_history(seed):
    """No history ends in a traceback."""
    book = record_book(Source(tuple(random_history(seed)), ()), DAY)
    assert len(csv_files(book, said)) == 10
    assert as_text(book, said).startswith("RECORD BOOK")
    if seed % 4 == 0:
        assert as_pdf(book, said).startswith(b"%PDF")
