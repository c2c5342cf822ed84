"""Units and kitchen measures: pint against the published figures."""

from __future__ import annotations

import subprocess
import sys

import pytest
from computing_cases import CHEMISTRY, MEASURES
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.mixing.measures import convert, grams, kitchen


@pytest.mark.parametrize(
    ("unit", "to", "factor"),
    [
        ("US cup", "mL", 236.5882365),
        ("US tablespoon", "mL", 14.78676478125),
        ("US teaspoon", "mL", 4.92892159375),
        ("US fl oz", "mL", 29.5735295625),
    ],
)
def test_nist_household_measures(unit, to, factor):
    """NIST, metric household units (nist.gov/pml/owm/metric-household; UCUM ticket 120)."""
    assert convert(1, unit, to) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "to", "factor"),
    [
        ("oz", "g", 28.349523125),
        ("lb", "g", 453.59237),
        ("US gal", "L", 3.785411784),
        ("imp fl oz", "mL", 28.4130625),
        ("imp pint", "mL", 568.26125),
        ("imp gal", "L", 4.54609),
    ],
)
def test_exact_definitions(unit, to, factor):
    """NIST and UK definitions, from memory."""
    assert convert(1, unit, to) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "to", "factor"),
    [
        ("oz", "g", 1000 * constants.oz),
        ("lb", "g", 1000 * constants.lb),
        ("US fl oz", "mL", 1e6 * constants.fluid_ounce_US),
        ("US gal", "L", 1000 * constants.gallon_US),
        ("imp fl oz", "mL", 1e6 * constants.fluid_ounce_imp),
        ("imp gal", "L", 1000 * constants.gallon_imp),
        ("inch", "cm", 100 * constants.inch),
        ("US cup", "L", 1000 * constants.gallon_US / 16),
    ],
)
def test_units_agree_with_another_library(unit, to, factor):
    """What pint does is what scipy's constants (CODATA and definitions) say."""
    assert convert(1, unit, to) == pytest.approx(factor, rel=1e-9)


@given(st.floats(-60, 400))
def test_temperatures_agree_with_another_library(degf):
    """Fahrenheit to Celsius as scipy has it."""
    theirs = constants.convert_temperature(degf, "Fahrenheit", "Celsius")
    assert convert(degf, "degF", "degC") == pytest.approx(theirs, rel=1e-9, abs=1e-9)


def test_half_a_cup():
    """Half a US cup is 118.29411825 mL (NIST)."""
    assert convert(0.5, "US cup", "mL") == pytest.approx(118.29411825, rel=1e-12)


@pytest.mark.parametrize(("f", "c"), [(32, 0), (212, 100), (50, 10), (85, 29.4444), (170, 76.6667)])
def test_temperatures(f, c):
    """Fahrenheit and Celsius by their definition, both ways."""
    assert convert(f, "degF", "degC") == pytest.approx(c, abs=1e-4)
    assert convert(c, "degC", "degF") == pytest.approx(f, abs=1e-3)


def test_shipped_measures_are_what_pint_says():
    """The table of kitchen measures and pint agree, and households round a little up."""
    for entry in MEASURES.entries["measure"]:
        exact = MEASURES.read_figure(entry["exact"], entry["name"])
        household = MEASURES.read_figure(entry["household"], entry["name"])
        assert convert(1, entry["name"], "mL") == pytest.approx(exact.low, rel=1e-12)
        assert exact.low < household.high < 1.02 * exact.low


@pytest.mark.parametrize(
    ("unit", "to"), [("g", "mL"), ("degC", "cm"), ("cup", "mL"), ("g", "stone")]
)
def test_what_cannot_be_converted(unit, to):
    """Mass is no volume, and a unit that the bench does not know is refused in words."""
    with pytest.raises(Unfitting, match=r"cannot be told in|no unit of this bench"):
        convert(1, unit, to)


def test_a_spoon_of_powder_is_a_range():
    """Powder lies loose or settled: 0.8 to 1.0 g/mL, common practice; liquids are one figure."""
    spoon = grams("oxalic acid dihydrate", 1, "US tablespoon", CHEMISTRY)
    assert spoon == pytest.approx((11.83, 14.79), abs=0.01)
    assert grams("glycerol", 1, "mL", CHEMISTRY).width == 0
    with pytest.raises(Unfitting, match="weigh it"):
        grams("sucrose", 1, "US cup", CHEMISTRY)


def test_a_quarter_teaspoon_is_about_a_gram():
    """A web guide: 1/4 teaspoon weighs about 1 g, which is some 0.8 g/mL, loose."""
    quarter = grams("oxalic acid dihydrate", 0.25, "US teaspoon", CHEMISTRY)
    assert quarter.low == pytest.approx(1, abs=0.02)


def test_no_scales():
    """35 g of powder without scales: some spoons, with the range that they hold."""
    best = kitchen("oxalic acid dihydrate", 35, CHEMISTRY, MEASURES)[0]
    assert best.holds.low < 35 < best.holds.high
    assert best.off > 10
    assert kitchen("sucrose", 1000, CHEMISTRY, MEASURES) == ()


@given(st.floats(1, 5000))
def test_a_kitchen_measure_is_the_nearest_with_its_parts(wanted):
    """No whole number of measures with one of its parts comes nearer than the one said."""
    for each in kitchen("glycerol", wanted, CHEMISTRY, MEASURES):
        (entry,) = [e for e in MEASURES.entries["measure"] if e["name"] == each.unit]
        one = grams("glycerol", 1, each.unit, CHEMISTRY).low
        off = abs(each.number * one - wanted)
        for part in (0, *entry["parts"]):
            assert off <= abs((int(wanted / one) + part) * one - wanted) + 1e-9


@given(st.floats(1, 5000))
def test_a_kitchen_measure_says_truly_what_it_holds(wanted):
    """The range is what so many measures hold, from loose and exact to settled and rounded."""
    for each in kitchen("oxalic acid dihydrate", wanted, CHEMISTRY, MEASURES):
        volume = convert(each.number, each.unit, "mL")
        assert each.holds.low <= 0.8 * volume * (1 + 1e-9)
        assert each.holds.high >= 1.0 * volume * (1 - 1e-9)


@given(st.floats(0.001, 1e6), st.sampled_from([("US cup", "mL"), ("lb", "g"), ("inch", "cm")]))
def test_there_and_back(amount, units):
    """Converting and converting back returns the amount."""
    there = convert(amount, *units)
    assert convert(there, units[1], units[0]) == pytest.approx(amount, rel=1e-12)


def test_nothing_loads_pint_before_it_is_needed():
    """The bench can be shown, and everything else run, without pint having been imported."""
    code = (
        "import sys; import fieldapp.husbandry.mixing.batch, fieldapp.husbandry.choosing, "
        "fieldapp.husbandry.applicators; "
        "from fieldapp.husbandry.mixing.measures import convert; before = 'pint' in sys.modules; "
        "convert(1, 'g', 'kg'); print(before, 'pint' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["False", "True"]
