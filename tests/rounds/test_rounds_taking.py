"""From what a round takes: the lot, whether it is enough, whether the batch is clear."""

from __future__ import annotations

import pytest

from fieldapp.rounds.amounts import Amount
from fieldapp.rounds.beginning import under_way
from fieldapp.rounds.taking import CLEAR
from fieldapp.words import Speech

SPEAK = Speech()
TRICKLE = "DE/standard-authorisation-3-5/2006/oxalic-acid/trickle"
AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
MIXED = {"recipe": "3.5 % (2006)", "treatment": TRICKLE, "unit": "mL"}
SEAMS = Amount(5, "mL", "solution", "seam", cap=50)


@pytest.fixture
def winter(phone):
    """Three hives in Germany, two of them with their seams counted: 6 and 12."""
    phone.set_up(3, "DE")
    for hive, seams in zip(phone.hives(), (6, 12), strict=False):
        phone.write("look", {"seams": seams}, hive=hive)
    return phone


def begun(phone, *, clear=None, amount=SEAMS):
    start = phone.start(TRICKLE)
    start.take_amount(amount)
    start.settle_lot()
    if clear is not None:
        start.answer(CLEAR, clear)
    return start


def facts(start):
    return [(fact.sign, SPEAK(fact.words)) for fact in start.facts()]


def test_what_the_hives_take_together_and_who_was_not_counted(winter):
    """30 mL and 50, the cap, are 80; hive 3 is named, not taken as none."""
    told = facts(begun(winter))
    assert ("quiet", "Together: 80 mL") in told
    assert ("unknown", "Not in it, for nobody counted there: hive 3") in told


@pytest.mark.parametrize(
    ("made", "sign", "words"),
    [
        (200, "done", "200 mL on hand, 120 mL left after it, for 3 hives more"),
        (80, "done", "80 mL on hand, 0 mL left after it"),
        (60, "late", "60 mL on hand, 20 mL too little"),
    ],
)
def test_what_is_left_of_the_batch(winter, made, sign, words):
    """Enough and for how many more, just enough, too little."""
    winter.write("batch", MIXED | {"amount": made})
    (told,) = [each for each in facts(begun(winter)) if "on hand" in each[1]]
    assert told[0] == sign
    assert told[1].endswith(words)


@pytest.mark.parametrize(("answer", "kept"), [("yes", "clear"), ("no", "cloudy"), (None, None)])
def test_clear_or_cloudy_stands_in_every_application(winter, answer, kept):
    """With the batch that it was; not answered is left out, never clear."""
    batch = winter.write("batch", MIXED | {"amount": 500}).id
    start = begun(winter, clear=answer)
    check = start.checks()[0]
    assert check.key == CLEAR
    assert "warm it, stir" in SPEAK(check.first)
    round_ = start.begin()
    round_.tap(winter.hives()[0])
    (given,) = winter.records("application")
    assert given.body["batch"] == batch
    assert given.body.get("clear") == kept
    (lot,) = winter.notebook.shelf.ledger().stock.lots
    assert lot.on_hand == 470


def test_a_bought_lot_is_drawn_on_by_the_strip(phone):
    """Two strips of twenty for each hive; a round taken up again draws on the same lot."""
    phone.set_up(2)
    one, two = phone.hives()
    bought = {"product": "amitraz strips", "treatment": AMITRAZ, "lot": "22"}
    phone.write("bought", bought | {"amount": 20, "unit": "strip"})
    start = phone.start(AMITRAZ)
    start.settle_lot()
    assert any("lot 22: 20 strips on hand, 16 strips left" in words for _, words in facts(start))
    start.begin().tap(one)
    under_way(phone.notebook).tap(two)
    (lot,) = phone.notebook.shelf.ledger().stock.lots
    assert lot.on_hand == 16


def test_which_of_two_lots_is_the_keepers_word(winter):
    """With two lots none is supposed; the key goes through them, then back to none."""
    for made in (100, 300):
        winter.write("batch", MIXED | {"amount": made})
    start = begun(winter)
    seen = [start.lot]
    for _ in range(3):
        start.turn_lot()
        seen.append(start.lot)
    assert [lot and lot.amount for lot in seen] == [None, 300, 100, None]
    start.begin().tap(winter.hives()[0])
    (given,) = winter.records("application")
    assert "batch" not in given.body


def test_what_is_over_or_of_another_treatment_is_not_offered(winter):
    """Past its last day, used up, or for something else."""
    winter.write("batch", MIXED | {"amount": 100, "keep_until": "2026-06-30"})
    winter.write("batch", MIXED | {"amount": 0})
    winter.write("batch", MIXED | {"amount": 100, "treatment": AMITRAZ})
    assert begun(winter).lots == []


def test_a_hive_of_two_boxes_gets_the_dose_of_two(phone):
    """Two strips a brood chamber are four, and four have to come out."""
    phone.set_up(2)
    one, two = phone.hives()
    phone.write("look", {"boxes": 2}, hive=one)
    start = phone.start(AMITRAZ)
    start.take_amount(Amount(2, "piece", "piece", "brood chamber"))
    round_ = start.begin()
    assert SPEAK(round_.gets(one)) == "2 brood chambers: 4 pieces"
    assert SPEAK(round_.gets(two)) == "2 pieces a brood chamber"
    round_.tap(one)
    assert phone.records("application")[0].body["pieces"] == 4
