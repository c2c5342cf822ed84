"""What labelled methods give a strong colony, in grams of dihydrate."""

from __future__ import annotations

import pytest
from computing_cases import CHEMISTRY, TABLES, terms

from fieldapp.assets import folder
from fieldapp.husbandry.labelled import labelled
from fieldapp.husbandry.library import load
from fieldapp.husbandry.mixing.recipe import read_recipes
from fieldapp.words import Speech

RECIPES = read_recipes(TABLES.recipes)


def of_country(country):
    bodies = [each.terms_body() for each in load(folder("treatments")).treatments(country)]
    return {Speech()(each.method): each.grams for each in labelled(bodies, RECIPES, CHEMISTRY)}


def acid(**dose):
    body = terms(dose=[dose]) | {"active": "oxalic acid"}
    return labelled([body], RECIPES, CHEMISTRY)


def test_the_german_trickle_for_a_strong_colony():
    """50 mL of 3.5 % m/V (standard authorisation 2006): 1.75 g."""
    found = of_country("DE")
    assert found["Oxalic acid 3.5 %, trickled at its most for one colony"] == 1.75


def test_a_product_is_counted_as_if_all_of_it_were_dihydrate():
    """And the words say so: more it cannot be."""
    (one,) = acid(amount=2, unit="g", of="product", per="hive")
    assert one.grams == 2
    assert Speech()(one.method).endswith("all of it counted as dihydrate")


def test_a_dose_by_box_is_that_of_one_box():
    """It says so; nobody multiplies by boxes that are not there."""
    (one,) = acid(most=4, unit="g", of="dihydrate", per="brood chamber")
    assert "one box" in Speech()(one.method)


def test_a_solution_without_a_recipe_is_left_out():
    """Its strength is not known here."""
    assert acid(amount=50, unit="mL", of="solution", per="colony") == ()


def test_by_the_seam_it_counts_at_its_cap():
    """Without a cap nothing is known of one colony."""
    assert acid(amount=1, unit="g", of="dihydrate", per="seam") == ()
    (one,) = acid(amount=1, unit="g", of="dihydrate", per="seam", cap=9)
    assert one.grams == pytest.approx(9)
