"""Doses by their basis, a round's total, what is left, and acid that evaporates."""

from __future__ import annotations

import pytest
from computing_cases import terms
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assets import folder
from fieldapp.husbandry.dosing import Asked, Dose, doses, left, total
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.evaporation import Rate, Weighing, evaporated, lasts
from fieldapp.husbandry.library import load as load_library
from fieldapp.words import Speech

LIBRARY = load_library(folder("treatments"))


def library_terms(start: str) -> dict:
    (found,) = [each for each in LIBRARY if each.identity.startswith(start)]
    return found.terms_body()


GERMAN_TRICKLE = library_terms("DE/standard-authorisation-3-5")


def test_german_trickle_by_seams():
    """Federal standard text of 26 October 2006: 5 to 6 mL an occupied seam, at most 50 mL."""
    seven, ten = (doses(GERMAN_TRICKLE, {"seam": n})[0] for n in (7.25, 10))
    assert (seven.least, seven.most, seven.unit, seven.of) == (36.25, 43.5, "mL", "solution")
    assert (ten.least, ten.most, ten.capped) == (50, 50, True)
    assert "2006" in ten.reasons[0].source
    assert [each.phrase.text for each in seven.reasons] == [seven.reasons[0].phrase.text]
    assert Speech()(ten.reasons[1].phrase) == "not over 50 mL for one colony"


def test_german_trickle_by_colony():
    """30, 40 and 50 mL for a small, medium and strong colony."""
    assert [each.amount for each in doses(GERMAN_TRICKLE, {"seam": 1})[1:]] == [30, 40, 50]


@pytest.mark.parametrize(
    ("per", "number", "each", "wanted"),
    [
        ("comb side", 20, 8, 160),
        ("frame of bees", 5, 2, 10),
        ("brood chamber", 2, 4, 8),
        ("box", 1.5, 85, 127.5),
        ("colony", 99, 2, 2),
    ],
)
def test_every_basis(per, number, each, wanted):
    """The dose is so much for each; for a colony it is one, whatever else was counted."""
    body = terms(dose=[{"amount": each, "unit": "g", "of": "product", "per": per}])
    (dose,) = doses(body, {per: number})
    assert dose.amount == wanted


def test_what_was_not_counted_is_asked_for():
    """No seams counted, no dose: never taken as none or as some."""
    asked = doses(GERMAN_TRICKLE, {})[0]
    assert isinstance(asked, Asked)
    assert asked.per == "seam"
    assert doses(terms(), {"seam": 5}) == ()


def test_seams_to_the_quarter():
    """COLOSS BEEBOOK 3.3.7.1: partly full spaces in quarters; a third is no quarter."""
    with pytest.raises(Unfitting, match="quarter"):
        doses(GERMAN_TRICKLE, {"seam": 6.3})


def test_total_of_a_round_names_hives_without_a_dose():
    """Hives that lack a count stay open; they are not counted as nothing."""
    by_hive = {str(n): doses(GERMAN_TRICKLE, {"seam": n})[0] for n in (5, 6)}
    by_hive["7"] = doses(GERMAN_TRICKLE, {})[0]
    whole = total(by_hive)
    assert (whole.least, whole.most, whole.unit, whole.open) == (55, 66, "mL", ("7",))


def test_doses_in_different_units_do_not_add():
    """A volume of solution and grams of product are two things."""
    grams = doses(terms(dose=[{"amount": 1, "unit": "g", "of": "product", "per": "hive"}]), {})[0]
    with pytest.raises(Unfitting, match="different units"):
        total({"1": doses(GERMAN_TRICKLE, {"seam": 5})[0], "2": grams})


def test_left_of_the_batch():
    """500 mL less ten hives of 40 leave 100 mL, two hives more; over the batch is a gap."""
    assert left(500, [40] * 10, 40) == (100, 2)
    assert left(500, [40] * 13, 40) == (-20, 0)
    assert left(500, [], None).doses is None


@given(st.integers(0, 48), st.integers(0, 8))
def test_more_seams_never_take_less(quarters, more):
    """The dose grows with the seams up to the cap, and never passes it."""
    few, many = (doses(GERMAN_TRICKLE, {"seam": n / 4})[0] for n in (quarters, quarters + more))
    assert isinstance(few, Dose)
    assert few.most <= many.most <= 50


SUMMER, AUTUMN = Rate(15, 20, 85), Rate(6, 10, 85)


def test_85_grams_last_as_the_leaflet_has_it():
    """Leaflet 12/2018: at 15 to 20 g a day 4 to 6 days, at 6 to 10 g 8 to 14 days."""
    assert lasts(SUMMER) == pytest.approx((4.25, 5.67), abs=0.01)
    assert lasts(AUTUMN) == pytest.approx((8.5, 14.2), abs=0.05)


def test_formic_acid_by_weighing():
    """Up to twice the mean in the first three days is right, later it is too much."""
    weighed = [
        Weighing(0, 300),
        Weighing(1, 270),
        Weighing(3, 250),
        Weighing(4, 225),
        Weighing(5, 215),
    ]
    seen = evaporated(weighed, SUMMER, boxes=1)
    assert [each.says for each in seen.stretches] == [
        "right",
        "too little",
        "too much",
        "too little",
    ]
    assert (seen.grams, seen.still) == (85, 0)


def test_two_boxes_want_twice_as_much():
    """The rate and the total are for a box of about 40 L."""
    seen = evaporated([Weighing(0, 300), Weighing(2, 240)], SUMMER, boxes=2)
    assert seen.stretches[0].says == "right"
    slow = evaporated([Weighing(0, 300), Weighing(2, 260)], SUMMER, boxes=2)
    assert slow.stretches[0].says == "too little"
    assert seen.still == 110
    assert seen.days_left == pytest.approx(110 / 30)


@pytest.mark.parametrize(
    "weighed",
    [
        [Weighing(0, 300)],
        [Weighing(0, 300), Weighing(1, 310)],
        [Weighing(1, 300), Weighing(1, 290)],
    ],
)
def test_weighings_that_cannot_be(weighed):
    """One weighing, a gain, no time between: refused in words."""
    with pytest.raises(Unfitting, match=r"[Ww]eigh"):
        evaporated(weighed, SUMMER, 1)
