"""Will it stay clear."""

from __future__ import annotations

import math
import random

import numpy
import pytest
from computing_cases import CHEMISTRY
from hypothesis import given
from hypothesis import strategies as st
from mixing_cases import ITALIAN, made

from fieldapp.husbandry.mixing.contents import anhydrous_share, contents
from fieldapp.husbandry.mixing.recipe import (
    Step,
)
from fieldapp.husbandry.mixing.solubility import crystals, dissolves_from, points


@pytest.mark.parametrize(
    ("grams_per_litre", "if_anhydrous", "if_dihydrate"),
    [(100, 14, 21), (75, 8, 15)],
)
def test_crystals_of_published_recipes(grams_per_litre, if_anhydrous, if_dihydrate):
    """100 g dihydrate a litre of water: near 14 or 21 degC; 75 g: near 8 or 15 (computed)."""
    found = crystals(
        contents(
            made(
                Step("add", "water", 1, "L"),
                Step("add", "oxalic acid dihydrate", grams_per_litre, "g"),
            ).steps,
            CHEMISTRY,
        ),
        CHEMISTRY,
    )
    assert found.if_anhydrous.low == pytest.approx(if_anhydrous, abs=0.5)
    assert found.if_dihydrate.low == pytest.approx(if_dihydrate, abs=0.5)
    assert found.at(4) == "crystals"
    assert found.at(40) == "clear"
    assert found.at((found.if_anhydrous.low + found.if_dihydrate.low) / 2) == "not known"


@pytest.mark.parametrize(
    ("degc", "anhydrous", "dihydrate"),
    [
        (5, 46.9, 65.7),
        (10, 57.2, 80.1),
        (15, 75.5, 105.7),
        (20, 95.5, 133.7),
        (25, 118, 165.2),
        (30, 139, 194.6),
        (35, 178, 249.2),
        (40, 217, 303.8),
        (45, 261, 365.5),
        (50, 315, 441.1),
        (55, 376, 526.5),
        (60, 426, 596.5),
        (65, 548, 767.3),
    ],
)
def test_solubility_table(degc, anhydrous, dihydrate):
    """Wikipedia, hosted copy of June 2025: g/L in water; right column computed."""
    assert (degc, anhydrous) in points(CHEMISTRY)
    assert anhydrous / anhydrous_share(CHEMISTRY) == pytest.approx(dihydrate, abs=0.06)
    assert dissolves_from(anhydrous, CHEMISTRY) == pytest.approx(degc)


def test_an_older_figure_lies_between_the_two_readings():
    """Older page: 143 g/L at 25 degC, read as dihydrate; the readings give 165 and 118.

    So what it calls just dissolved is *not known* here, and neither clear nor crystals.
    """
    found = crystals(
        contents(
            made(
                Step("add", "water", 1, "L"),
                Step("add", "oxalic acid dihydrate", 143, "g"),
            ).steps,
            CHEMISTRY,
        ),
        CHEMISTRY,
    )
    assert found.if_anhydrous.high < 25 < found.if_dihydrate.low
    assert found.at(25) == "not known"
    assert 143 * anhydrous_share(CHEMISTRY) == pytest.approx(102, abs=0.2)
    assert pytest.approx(1.15, abs=0.01) == 165.2 / 143


def test_between_the_rows_numpy_agrees(long):
    """Straight between the rows of the table, over thousands of strengths."""
    degc, grams = zip(*points(CHEMISTRY), strict=True)
    chance = random.Random(31)
    for _ in range(20_000 if long else 3_000):
        per_litre = chance.uniform(grams[0], grams[-1])
        ours = dissolves_from(per_litre, CHEMISTRY)
        assert ours == pytest.approx(numpy.interp(per_litre, grams, degc), rel=1e-12)


def test_the_table_is_never_extrapolated():
    """Weaker than its first row, stronger than its last: no temperature is made up."""
    assert dissolves_from(46.8, CHEMISTRY) == -math.inf
    assert dissolves_from(549, CHEMISTRY) == math.inf


@given(st.floats(40, 560), st.floats(0, 50))
def test_more_acid_needs_more_warmth(per_litre, more):
    """The temperature at which crystals come never falls as the mix gets stronger."""
    assert dissolves_from(per_litre + more, CHEMISTRY) >= dissolves_from(per_litre, CHEMISTRY)


def test_what_is_said_of_clearness():
    """Sugar and glycerol shift it; after cold storage warm, stir, clear before dosing."""
    said = [
        each.phrase.text for each in crystals(contents(ITALIAN.steps, CHEMISTRY), CHEMISTRY).reasons
    ]
    assert any("sugar and glycerol shift it" in each for each in said)
    assert any("warm it, stir" in each for each in said)
    assert any("two readings" in each for each in said)
