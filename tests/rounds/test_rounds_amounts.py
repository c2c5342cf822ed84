"""What a hive gets, as the label gives it and as the keeper measures it."""

from __future__ import annotations

import pytest

from fieldapp.husbandry.amounts import measured
from fieldapp.rounds.amounts import NOT_SAID, Amount, offered
from fieldapp.words import Speech, catalogue, habits_of

SPEAK = Speech()
PER_SEAM = Amount(5, "mL", "solution", "seam", cap=50)


def test_a_range_is_offered_by_its_two_ends():
    """5 to 6 mL a seam: the keeper says which, nothing in between is assumed."""
    values = {
        "dose": {"value": [{"least": 5, "most": 6, "unit": "mL", "of": "solution", "per": "seam"}]}
    }
    assert [amount.amount for amount in offered(values)] == [5, 6]


def test_what_evaporates_in_a_day_is_no_amount_to_give():
    """85 g a box in all, 6 to 20 g of them a day: one amount is offered, as the label has it."""
    day = {"unit": "g", "of": "product", "per": "box"}
    doses = [
        {"when": "the whole treatment", "amount": 85, **day},
        {"when": "a day, summer after extraction", "least": 15, "most": 20, **day},
        {"when": "a day, autumn", "least": 6, "most": 10, **day},
    ]
    assert [each.amount for each in offered({"dose": {"value": doses}})] == [85]
    assert [each.amount for each in offered({"dose": {"value": doses[1:2]}})] == [15, 20]


def test_terms_without_a_dose_offer_nothing():
    """A missing dose stays missing."""
    assert offered({}) == []


def test_a_dose_by_seams_is_the_amount_times_the_seams_up_to_the_cap():
    """6 1/4 seams at 5 mL are 31.25 mL; 12 seams would be 60, the label says 50 at most."""
    assert PER_SEAM.given(6.25) == 31.25
    assert PER_SEAM.given(12) == 50


def test_a_dose_by_seams_is_not_known_without_seams():
    """No seams said: no dose in the record, rather than a wrong one."""
    assert PER_SEAM.given(None) is None
    assert PER_SEAM.body(None) == {}


def test_the_record_says_of_what_and_per_what():
    """30 mL of solution a colony, from 6 seams."""
    assert PER_SEAM.body(6) == {
        "seams": 6,
        "dose": {"amount": 30, "unit": "mL", "of": "solution", "per": "colony"},
    }


@pytest.mark.parametrize(
    ("per", "each", "number", "said", "dose"),
    [
        ("brood chamber", 2, 2, "2 brood chambers: 4 g", 4),
        ("box", 85, 1, "85 g", 85),
        ("frame of bees", 0.2, 7.5, "7.5 frames of bees: 1.5 g", 1.5),
        ("comb side", 8, 20, "20 comb sides: 160 g", 160),
        ("colony", 2, 3, "2 g", 2),
    ],
)
def test_every_basis_is_multiplied_by_what_the_hive_has(per, each, number, said, dose):
    """So much for each of them, said and recorded for the colony; a colony is one."""
    amount = Amount(each, "g", "product", per)
    assert SPEAK(amount.phrase(number)) == said
    assert amount.body(number)["dose"] == {
        "amount": dose,
        "unit": "g",
        "of": "product",
        "per": "colony",
    }


def test_boxes_that_nobody_recorded_are_not_taken_as_one():
    """The dose stays one per brood chamber: how many there are is not known."""
    body = Amount(2, "piece", "piece", "brood chamber").body(None)
    assert body["dose"]["per"] == "brood chamber"
    assert body["dose"]["amount"] == 2


@pytest.mark.parametrize(("amount", "pieces"), [(2, 2), (1.5, 2), (1, 1)])
def test_pieces_are_whole_things_that_must_come_out(amount, pieces):
    """One and a half sponges are two things in the hive."""
    assert Amount(amount, "piece", "piece", "hive").body(None)["pieces"] == pieces


def test_an_amount_that_is_not_said_is_left_out():
    """Not known is no zero."""
    assert NOT_SAID.body(None) == {}
    assert SPEAK(NOT_SAID.phrase()) == "as the label says"


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        (Amount(1, "piece", "piece", "hive"), "1 piece"),
        (Amount(1.5, "piece", "piece", "hive"), "1.5 pieces"),
        (Amount(2, "g", "dihydrate", "brood chamber"), "2 g a brood chamber"),
        (PER_SEAM, "5 mL a seam"),
    ],
)
def test_amounts_are_said_as_they_are_measured(amount, said):
    """Number, unit, per what."""
    assert SPEAK(amount.phrase()) == said


@pytest.mark.parametrize(
    ("amount", "unit", "english", "german"),
    [
        (1, "strip", "1 strip", "1 Streifen"),
        (2, "strip", "2 strips", "2 Streifen"),
        (0.5, "tray", "0.5 trays", "0,5 Schalen"),
        (1, "tray", "1 tray", "1 Schale"),
        (3.0, "pad", "3 pads", "3 Kissen"),
        (1, "mL", "1 mL", "1 mL"),
        (2, "sachet", "2 sachet", "2 sachet"),
    ],
)
def test_a_unit_goes_with_its_amount(amount, unit, english, german):
    """One of it, several, parts of it; a symbol and a word of a keeper's own have no forms."""
    in_german = Speech(catalogue("de"), habits_of("DE"))
    assert SPEAK(measured(amount, unit)) == english
    assert in_german(measured(amount, unit)) == german


def test_a_hive_with_one_of_what_is_counted():
    """One seam is no *1 seams*; a quarter more is several."""
    assert SPEAK(PER_SEAM.phrase(1)) == "1 seam: 5 mL"
    assert SPEAK(PER_SEAM.phrase(1.25)) == "1 ¼ seams: 6.25 mL"
