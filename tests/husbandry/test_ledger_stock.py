"""Lots and batches: what came in, what went, what is left, and what does not fit."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from ledger_season import LedgerSeason, spoken
from rules_season import HIVE, OTHER, name

ACID = "GB/1/1/acid/drip"


def test_bought_20_used_16_disposed_2_on_hand_2():
    """The balance of a lot is said in one line."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    lot = season.buy("2025-07-01", 20, lot="22")
    for hive in (HIVE, OTHER):
        season.give(terms, "2025-08-01", lot, 8, hive=hive)
    season.dispose(lot, "2025-09-01", 2, how="taken back")
    (found,) = season.books().stock.lots
    assert spoken(found.balance) == "2 strips on hand: bought 20, used 16, disposed 2"
    assert found.gaps == ()


def test_a_difference_to_the_counted_stock_is_a_named_gap():
    """A count is what is there from then on, and what is missing is said."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    lot = season.buy("2025-07-01", 20)
    season.give(terms, "2025-08-01", lot, 8)
    counted = season.count_stock(lot, "2025-08-02", 10)
    season.give(terms, "2025-08-03", lot, 4)
    (found,) = season.books().stock.lots
    (gap,) = found.gaps
    assert spoken(gap.phrase) == "counted 10, the books say 12 (strips): 2 missing"
    assert gap.records == (counted,)
    assert found.on_hand == 6


def test_more_counted_than_the_books_say_is_a_gap_too():
    """Too many is as much a gap as too few."""
    season = LedgerSeason()
    season.count_stock(season.buy("2025-07-01", 20), "2025-08-02", 21)
    assert season.said_gaps() == ["difference: counted 21, the books say 20 (strips): 1 too many"]


def test_a_batch_draws_on_its_lot_and_applications_on_the_batch():
    """70 g of powder make 1,000 mL; two colonies get 30 and 35 mL of it."""
    season = LedgerSeason()
    terms = season.terms()
    powder = season.buy("2025-12-01", 70, "g", lot="118")
    batch = season.mix("2025-12-27", 1, "L", drawn=[{"lot": powder, "amount": 70, "unit": "g"}])
    for hive, amount in ((HIVE, 30), (OTHER, 35)):
        dose = {"amount": amount, "unit": "mL", "of": "solution", "per": "colony"}
        given = season.apply(terms, "2025-12-28", hive, batch=batch, dose=dose)
    books = season.books()
    powder_lot, mixed = books.stock.lots
    assert spoken(powder_lot.balance) == "0 g on hand: bought 70, used 70, disposed 0"
    assert spoken(mixed.balance) == "0.935 L on hand: mixed 1, used 0.065, disposed 0"
    record = next(record for record in season.records if record.id == given)
    assert [lot.id for lot in books.behind(record)] == [batch, powder]


def test_a_dose_per_seam_is_taken_as_often_as_there_are_seams():
    """6 mL for each of five seams are 30 mL; without the seams nobody knows."""
    season = LedgerSeason()
    terms = season.terms()
    batch = season.mix("2025-12-27", 100)
    dose = {"amount": 6, "unit": "mL", "of": "solution", "per": "seam"}
    season.apply(terms, "2025-12-28", batch=batch, dose=dose, seams=5)
    season.apply(terms, "2025-12-28", OTHER, batch=batch, dose=dose)
    (lot,) = season.books().stock.lots
    assert (lot.on_hand, lot.unknown) == (70, 1)


def test_a_use_without_an_amount_leaves_at_most_what_the_books_say():
    """Unknown is never zero: the balance says *at most*, and the use is a gap."""
    season = LedgerSeason()
    terms = season.terms()
    batch = season.mix("2025-12-27", 100)
    used = season.apply(terms, "2025-12-28", batch=batch)
    (lot,) = season.books().stock.lots
    assert (lot.unknown, lot.gaps[0].what, lot.gaps[0].records) == (1, "amount", (used,))
    assert spoken(lot.balance).endswith("at most: not every use has its amount")


def test_units_that_do_not_go_together_are_named_never_guessed():
    """Grams taken from millilitres change nothing but are said."""
    season = LedgerSeason()
    terms = season.terms()
    batch = season.mix("2025-12-27", 100)
    season.give(terms, "2025-12-28", batch, 5, unit="g")
    (lot,) = season.books().stock.lots
    assert lot.on_hand == 100
    assert spoken(lot.gaps[0].phrase) == "taken in g, kept in mL: not comparable"


def test_a_dose_said_of_the_acid_is_not_taken_for_millilitres():
    """2 g of dihydrate are not 2 g of the solution that holds it."""
    season = LedgerSeason()
    terms = season.terms()
    batch = season.mix("2025-12-27", 100, "g")
    dose = {"amount": 2, "unit": "g", "of": "dihydrate", "per": "colony"}
    season.apply(terms, "2025-12-28", batch=batch, dose=dose)
    (lot,) = season.books().stock.lots
    assert (lot.on_hand, lot.unknown, lot.gaps[0].what) == (100, 1, "unit")


def test_more_taken_than_there_was_is_named():
    """A lot cannot give more than it held."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    lot = season.buy("2025-07-01", 6)
    season.give(terms, "2025-08-01", lot, 8)
    assert season.said_gaps() == ["over: more was taken than there was"]


def test_use_after_the_last_day_is_named_disposal_is_not():
    """A lot may be thrown away after its last day, not used."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    lot = season.buy("2025-07-01", 20, expiry="2025-08-31")
    season.give(terms, "2025-08-31", lot, 2)
    late = season.give(terms, "2025-09-01", lot, 2)
    season.dispose(lot, "2025-09-02", 16)
    (gap,) = season.books().gaps
    assert spoken(gap.phrase) == "used after its last day, 31 Aug 2025"
    assert gap.records == (late,)


def test_a_lot_that_is_not_here_is_named():
    """A use may arrive before the purchase, or the purchase may have been voided."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    used = season.give(terms, "2025-08-01", name(0xFFFF), 2)
    (gap,) = season.books().gaps
    assert (gap.what, gap.records) == ("lot", (used,))


def test_a_corrected_amount_is_as_if_entered_right():
    """After a correction the books are those of the right record; a voided use is none."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    lot = season.buy("2025-07-01", 20)
    wrong = season.give(terms, "2025-08-01", lot, 8)
    right = {
        "treatment": ACID,
        "terms": terms,
        "drawn": [{"lot": lot, "amount": 2, "unit": "strip"}],
    }
    season.correct(wrong, body=right)
    slip = season.give(terms, "2025-08-01", lot, 4, hive=OTHER)
    season.correct(slip, void=True)
    assert season.books().stock.lots[0].on_hand == 18


def test_the_same_application_twice_uses_twice_until_it_is_answered():
    """Two phones logged hive 1: both count as used until the keeper says they are one."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    lot = season.buy("2025-07-01", 20)
    both = [season.give(terms, "2025-08-01", lot, 2) for _ in "ab"]
    assert season.books().stock.lots[0].on_hand == 16
    season.add("answer_twice", "2025-08-02", {"parts": [both]}, hive=None)
    assert season.books().stock.lots[0].on_hand == 18


@given(st.randoms(use_true_random=False), st.lists(st.integers(1, 9), min_size=1, max_size=8))
def test_arrival_order_never_matters_and_amounts_add_up(chance, taken):
    """What was bought is what was used, disposed of and is left, whatever came first."""
    season = LedgerSeason()
    terms = season.terms(form="pieces")
    lot = season.buy("2025-07-01", 100)
    for each in taken:
        season.give(terms, "2025-08-01", lot, each)
    season.dispose(lot, "2025-08-01", 3)
    before = season.books().stock
    chance.shuffle(season.records)
    (found,) = season.books().stock.lots
    assert (found,) == before.lots
    assert found.used + found.disposed + found.on_hand == 100
    assert found.used == sum(taken)
