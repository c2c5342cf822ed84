"""Diluting an acid with water."""

from __future__ import annotations

import pytest
from computing_cases import CHEMISTRY
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.mixing.dilution import acid_for, diluted, percent_after


@pytest.mark.parametrize(
    ("percent", "density", "water", "result"),
    [(90, 1.20, 6.0, 15.0), (80, 1.185, 5.2, 14.9), (70, 1.165, 4.3, 15.0), (60, 1.14, 3.4, 15.1)],
)
def test_lactic_acid_to_15_percent(percent, density, water, result):
    """Water for each litre of acid as a German sheet has it (studylibde.com/doc/3188854).

    The results are computed; the densities of lactic acid stand here from memory.
    """
    found = percent_after(1000, density, percent, water * 1000, CHEMISTRY)
    assert found == pytest.approx(result, abs=0.06)


@given(st.floats(1, 5000), st.floats(20, 100), st.floats(1, 19))
def test_there_and_back(need, percent, to_percent):
    """Acid and water for an amount make that amount, with all of the acid in it."""
    mix = acid_for(need, percent, to_percent)
    assert mix.makes == pytest.approx(need)
    assert mix.acid + mix.water == pytest.approx(need)
    assert mix.acid * percent == pytest.approx(need * to_percent)
    assert diluted(mix.acid, percent, to_percent) == mix


def test_acid_goes_into_water():
    """The order is said with every dilution."""
    assert "acid into water" in diluted(100, 60, 15).reasons[0].phrase.text


@pytest.mark.parametrize(("percent", "to_percent"), [(15, 60), (60, 60), (60, 0), (120, 15)])
def test_water_makes_nothing_stronger(percent, to_percent):
    """Stronger than it was, nothing at all, over 100 %: refused in words."""
    with pytest.raises(Unfitting, match="weaker"):
        diluted(100, percent, to_percent)
