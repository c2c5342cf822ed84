"""What the record book knows: every field that a law wants, gaps by name, corrections shown."""

from __future__ import annotations

from datetime import date

import pytest
from ledger_season import OTHER_APIARY
from paper_season import APIARY, HIVE, OTHER, PaperSeason, said, strips

from fieldapp.papers import Source, record_book
from fieldapp.papers.sections import paper
from fieldapp.papers.text import as_text


def gaps(season: PaperSeason) -> list[str]:
    return [said(gap.words) for gap in season.book().gaps]


def test_a_treatment_carries_every_field_that_a_law_wants():
    """Those of Regulation (EU) 2019/6, the UK and Jersey (docs/sources.md F1, F5, F6)."""
    season = PaperSeason()
    strips(season)
    given = season.book().treated[0]
    assert (given.first, given.last, given.days) == (date(2025, 8, 1), date(2025, 9, 12), 43)
    assert (given.apiary, given.hive, given.person) == ("Ferry Lane", "1", "Keeper")
    assert (given.active, given.method) == ("acid", "drip")
    assert (given.amount.amount, given.amount.unit, given.pieces) == (2, "strip", 2)
    assert (given.pieces_out, given.pieces_state) == (date(2025, 9, 12), "out")
    (lot,) = given.lots
    assert (lot.number, lot.record.body["supplier"], lot.record.body["proof"]) == (
        "22",
        "a dealer",
        "invoice 7",
    )
    assert (given.withdrawal.days, given.withdrawal.standing) == (14, "read")
    assert given.honey_from == date(2025, 9, 27)


@pytest.mark.parametrize("supers", ["off", "allowed"])
def test_a_withdrawal_period_of_zero_is_said(supers):
    """Zero is a figure of its own, not an empty field."""
    season = PaperSeason()
    season.apply(season.terms(supers=supers, period=0), "2025-08-01")
    (given,) = season.book().treated
    assert (given.withdrawal.days, said(given.withdrawal.words)) == (0, "0 days")
    assert "Withdrawal: 0 days; read" in as_text(season.book(), said)


def test_a_period_that_is_not_known_is_no_zero():
    """Without a published period the book says *not known*, names the gap and gives no date."""
    season = PaperSeason()
    season.apply(season.terms(period=None), "2025-08-01")
    (given,) = season.book().treated
    assert (given.withdrawal.known, given.withdrawal.days, given.honey_from) == (False, None, None)
    assert "1 treatment whose withdrawal period is not known" in gaps(season)


def test_a_figure_from_memory_is_shown_but_does_not_count():
    """The figure stands beside; the period stays not known."""
    season = PaperSeason()
    season.apply(season.terms(period=0, standing="from memory"), "2025-08-01")
    (given,) = season.book().treated
    assert said(given.withdrawal.words) == "not known (not counted: 0 days, from memory)"
    assert given.honey_from is None


def test_honey_from_waits_for_whatever_else_closes_the_hive():
    """One treatment's own end is no answer while pieces of another are in."""
    season = PaperSeason()
    short = season.terms("GB/1/1/acid/drip", supers="off", period=0)
    long = season.terms("GB/2/1/oil/pad", form="pieces", supers="off", period=0)
    season.apply(long, "2025-08-01", pieces=1)
    season.apply(short, "2025-08-02")
    assert [each.honey_from for each in season.book().treated] == [None, None]


def test_a_hive_names_only_what_still_closes_it():
    """Closed without a break since July; on 10 August only the second treatment keeps it so."""
    season = PaperSeason()
    terms = season.terms(supers="off", period=14)
    for day in ("2025-07-20", "2025-08-01"):
        season.apply(terms, day)
    (now, *_) = season.book(date(2025, 8, 10)).hives
    assert now.honey.honey_from == date(2025, 8, 16)
    assert [said(reason.phrase) for reason in now.honey.reasons[1:]] == [
        "GB/1/1/acid/drip, given on 1 Aug 2025: closed to 15 Aug 2025."
    ]


def test_five_years_are_shown_and_no_more():
    """Asked on 1 March 2026: from 1 March 2021 on."""
    season = PaperSeason()
    terms = season.terms()
    for day in ("2021-02-28", "2021-03-01"):
        season.apply(terms, day)
    assert [str(each.day) for each in season.book().treated] == ["2021-03-01"]


def test_a_book_of_one_apiary_holds_nothing_of_another():
    """Hives, treatments, register and lots are those of that apiary."""
    season = PaperSeason()
    terms = season.terms()
    season.stand(OTHER, "2025-01-01", OTHER_APIARY, number="21")
    elsewhere = season.buy("2025-07-01", 5, lot="elsewhere")
    season.apply(terms, "2025-08-01", HIVE)
    season.give(terms, "2025-08-01", elsewhere, 1, hive=OTHER)
    season.add("colony_count", "2025-04-01", {"number": 7}, hive=None, apiary=OTHER_APIARY)
    book = season.book(apiary=APIARY)
    assert (book.apiary, {each.hive for each in book.treated}) == ("Ferry Lane", {"1"})
    assert {each.hive for each in book.hives} == {"1", "3"}
    assert book.lots == ()
    words = as_text(book, said)
    assert "7 colonies" not in words
    assert "elsewhere" not in words


def test_a_correction_is_shown_as_a_correction():
    """The line stands as it holds and points to what stood before."""
    season = PaperSeason()
    terms = season.terms()
    body = {"dose": {"amount": 30, "unit": "mL", "of": "solution", "per": "colony"}}
    given = season.apply(terms, "2025-08-01", **body)
    right = season.records[-1].body | {"dose": body["dose"] | {"amount": 35}}
    season.correct(given, body=right, day="2025-08-02")
    book = season.book()
    assert (str(book.treated[0].day), book.treated[0].amount.amount) == ("2025-08-02", 35)
    assert book.treated[0].change == 1
    (change,) = book.changes
    words = [said(phrase) for phrase in change.changed]
    assert words[0].startswith("When: was 1 Aug 2025, 10:")
    assert words[1:] == ["Dose: How much: was 30, now 35"]
    text = as_text(book, said)
    assert "corrected: C1" in text
    assert "* Ref.: C1" in text


def test_what_was_taken_back_is_shown_and_slips_are_counted():
    """A voided record stands under corrections; a slip of the finger is folded away, counted."""
    season = PaperSeason()
    terms = season.terms()
    body = {"treatment": "GB/1/1/acid/drip", "terms": terms}
    season.correct(season.apply(terms, "2025-08-01"), void=True)
    season.correct(
        season.apply(terms, "2025-08-01", OTHER), void=True, body=body | {"reason": "slip"}
    )
    book = season.book()
    assert book.treated == ()
    assert (book.tally.voided, book.tally.slips) == (2, 1)
    assert [change.void for change in book.changes] == [True]
    assert "2 taken back, 1 of these as slips" in as_text(book, said)


def test_versions_side_by_side_are_named_until_answered():
    """Two phones corrected the same record: both are counted, and the question stands."""
    season = PaperSeason()
    terms = season.terms()
    given = season.apply(terms, "2025-08-01")
    for day in ("2025-08-02", "2025-08-03"):
        season.correct(given, day=day)
    assert season.book().changes[0].open == 2
    assert any("corrected twice side by side" in gap for gap in gaps(season))


def test_the_same_application_twice_is_named_until_answered():
    """Both records stand in the book, each with the question."""
    season = PaperSeason()
    terms = season.terms()
    for at in ("09:00:00", "09:05:00"):
        season.apply(terms, "2025-08-01", at=at)
    book = season.book()
    assert len(book.treated) == 2
    assert all(
        "logged twice, not answered whether it was one" in map(said, each.remarks)
        for each in book.treated
    )


def test_the_same_application_answered_to_be_one_stands_once_and_says_so():
    """The earliest holds; that there were two records is not hidden."""
    season = PaperSeason()
    terms = season.terms()
    both = [season.apply(terms, "2025-08-01", at=at) for at in ("09:00:00", "09:05:00")]
    season.add("answer_twice", "2025-08-02", {"parts": [both]}, hive=None)
    (given,) = season.book().treated
    assert given.record.id == both[0]
    assert "logged 2 times, answered to be one" in map(said, given.remarks)


def test_pieces_that_nobody_took_out_are_a_gap():
    """In the book they are in, without an end."""
    season = PaperSeason()
    season.apply(season.terms(form="pieces"), "2025-08-01", pieces=2)
    (given,) = season.book().treated
    assert (given.pieces_state, given.last, given.days) == ("in", None, None)
    assert "1 treatment whose pieces are not recorded as out" in gaps(season)


def test_what_the_law_wants_and_nobody_wrote_down_is_a_gap():
    """No lot named, no amount said, no address of the supplier."""
    season = PaperSeason()
    strips(season, lot=False)
    season.apply(season.terms(), "2025-08-03")
    season.buy("2025-07-02", 5, lot="23", supplier="a dealer")
    found = gaps(season)
    assert "3 treatments that name no lot in stock" in found
    assert "1 treatment without the amount given" in found
    assert "1 purchase without the supplier's address" in found


def test_a_counted_difference_is_a_gap_of_the_book():
    """What the shelf lacks is said with its lot."""
    season = PaperSeason()
    lot = season.buy("2025-07-01", 20, lot="22", supplier="a", address="b")
    season.count_stock(lot, "2025-08-01", 18)
    assert "amitraz strips, lot 22: counted 18, the books say 20 (strips): 2 missing" in gaps(
        season
    )


def test_what_the_journal_cannot_read_or_lacks_is_named():
    """Not understood, lost, other contents: counted where the inspector looks for gaps."""
    season = PaperSeason()
    loss = {"of": "ab" * 16, "first": 4, "last": 6, "finder": "the phone"}
    season.add("loss", "2025-08-01", loss, hive=None)
    source = Source(tuple(season.records), (), not_understood=2, others=1)
    found = [said(gap.words) for gap in record_book(source, date(2026, 3, 1)).gaps]
    assert found[0].startswith("2 records that this version does not understand")
    assert found[1].startswith("1 other content")
    assert found[2] == "records 4 to 6 of writer abababab are lost, found by the phone"


def test_the_book_says_what_the_chain_shows_and_what_it_does_not_prove():
    """With the digest of each writer's last record."""
    text = as_text(PaperSeason().book(), said)
    assert "It does not prove: who wrote a record, or when." in text
    assert "whether anything was altered or left out after another device" in text
    assert "64" * 32 in text


def test_an_empty_journal_gives_a_book_that_says_so():
    """No traceback, no empty page."""
    book = record_book(Source((), ()), date(2026, 3, 1))
    assert "None on record in these years." in as_text(book, said)


def test_an_unknown_apiary_gives_an_empty_book():
    """Nothing of another apiary slips in."""
    season = PaperSeason()
    strips(season)
    book = season.book(apiary="00000000-0000-7000-8000-00000000dead")
    assert (book.treated, book.hives, book.lots, book.premises) == ((), (), (), ())


def test_arrival_order_makes_no_difference():
    """The same records in another order give the same book."""
    season = PaperSeason()
    strips(season)
    before = season.book()
    season.records.reverse()
    assert season.book() == before


def test_every_row_has_as_many_cells_as_its_table_has_columns():
    """For text and PDF alike."""
    season = PaperSeason()
    strips(season)
    season.dispose(season.buy("2025-07-03", 5), "2025-09-01", 5, how="taken back")
    season.add("harvest", "2025-07-20", {"lot": "H1", "takes": [{"hive": HIVE}]}, hive=None)
    season.add("count", "2025-07-21", {"way": "wash", "mites": 3, "bees": 300})
    season.visit("2025-07-22", "set")
    whole = paper(season.book(), said)
    for section in whole.sections:
        if section.table is not None:
            wide = len(section.table.columns)
            assert len(section.table.widths) == wide
            assert {len(row) for row in section.table.rows} == {wide}
    tables = [section for section in whole.sections if section.table is not None]
    assert len(tables) == 9
