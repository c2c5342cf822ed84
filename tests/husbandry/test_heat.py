"""Heat by step: stops and cautions."""

from __future__ import annotations

import pytest
from computing_cases import CHEMISTRY, PRACTICE
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.husbandry.mixing.heat import findings
from fieldapp.husbandry.mixing.recipe import Step
from fieldapp.words import Speech

WATER, ACID = Step("add", "water", 200, "mL"), Step("add", "oxalic acid dihydrate", 50, "g")
GLYCEROL = Step("add", "glycerol", 60, "mL")
OFF_HEAT = Step("add", "glycerol", 60, "mL", off_heat=True)


def said(*steps: Step) -> list[tuple[int, str]]:
    return [(each.step, each.level) for each in findings(steps, CHEMISTRY)]


@pytest.mark.parametrize(
    ("degc", "stops"), [(69, []), (70, []), (70.5, [(3, "stop")]), (115, [(3, "stop")])]
)
def test_glycerol_and_acid_heated_together(degc, stops):
    """Over 70 degC is a stop: gas comes at 100, formic acid at 110 to 120 (classic preparation)."""
    assert said(WATER, ACID, GLYCEROL, Step("heat", to=degc)) == stops


def test_the_stop_says_what_comes_and_at_what_heat():
    """Classic preparation: gas near 100 degC, formic acid at 110 to 120; no flame, no microwave."""
    (found,) = findings([WATER, ACID, GLYCEROL, Step("heat", to=90)], CHEMISTRY)
    said_of_it = Speech()(found.reason.phrase)
    for words in ("above 70 °C", "Near 100 °C", "110 °C to 120 °C formic acid", "no microwave"):
        assert words.lower() in said_of_it.lower()
    assert found.reason.source


def test_water_and_acid_above_it_are_a_caution():
    """Without glycerol the heat is a caution."""
    assert said(WATER, ACID, Step("heat", to=77)) == [(2, "caution")]
    assert said(WATER, ACID, Step("heat", to=60)) == []


def test_glycerol_off_the_heat():
    """It gets the caution to let it fall first; a pot that was cooled needs none."""
    assert said(WATER, ACID, Step("heat", to=77), OFF_HEAT) == [(2, "caution"), (3, "caution")]
    text = findings([WATER, ACID, Step("heat", to=77), OFF_HEAT], CHEMISTRY)[1].reason.phrase.text
    assert text.startswith("Let it fall under")
    cooled = said(WATER, ACID, Step("heat", to=77), Step("cool", to=60), OFF_HEAT)
    assert cooled == [(2, "caution")]


def test_glycerol_into_a_hot_pot_on_the_heat_is_a_stop():
    """An addition that is not said to be off the heat shares the heat of the pot."""
    assert said(WATER, ACID, Step("heat", to=77), GLYCEROL) == [(2, "caution"), (3, "stop")]


def test_reheating_counts():
    """A batch warmed again above the limit is a stop, whenever it is."""
    assert said(WATER, ACID, GLYCEROL, Step("reheat", to=71)) == [(3, "stop")]
    assert said(WATER, ACID, GLYCEROL, Step("reheat", to=45)) == []


def test_what_was_measured_counts():
    """More measured than meant is a stop; heated too hot is one though less was measured."""
    assert said(WATER, ACID, GLYCEROL, Step("heat", to=60, measured=82)) == [(3, "stop")]
    assert said(WATER, ACID, GLYCEROL, Step("heat", to=90, measured=60)) == [(3, "stop")]
    assert said(WATER, ACID, GLYCEROL, Step("stir", measured=82)) == [(3, "stop")]


def test_heat_that_is_not_known_is_not_safe():
    """Heating both to no stated temperature is a stop, acid alone a caution."""
    assert said(WATER, ACID, GLYCEROL, Step("heat")) == [(3, "stop")]
    assert said(WATER, ACID, GLYCEROL, Step("reheat")) == [(3, "stop")]
    assert said(WATER, ACID, Step("heat")) == [(2, "caution")]
    assert said(WATER, ACID, Step("heat"), OFF_HEAT) == [(2, "caution"), (3, "caution")]


def test_the_order_in_which_they_meet_does_not_matter():
    """Acid into hot glycerol is what glycerol into hot acid is."""
    assert said(GLYCEROL, Step("heat", to=90), ACID) == [(2, "stop")]
    off = Step("add", "oxalic acid dihydrate", 50, "g", off_heat=True)
    assert said(GLYCEROL, Step("heat", to=90), off) == [(2, "caution")]


@pytest.mark.parametrize("what", ["anhydrous", "powder 886 mg/g"])
def test_every_form_of_the_acid_counts(what):
    """Anhydrous or a powder with an excipient: it is oxalic acid all the same."""
    acid = Step("add", f"oxalic acid {what}", 50, "g")
    assert said(WATER, acid, GLYCEROL, Step("heat", to=90)) == [(3, "stop")]


def test_common_practice():
    """Water and acid to 170 degF, glycerol off the heat; warmed again it would be a stop."""
    assert said(*PRACTICE) == [(2, "caution"), (3, "caution")]
    again = said(*PRACTICE, Step("reheat", to=(170 - 32) / 1.8))
    assert again == [(2, "caution"), (3, "caution"), (5, "stop")]


_steps = st.lists(
    st.one_of(
        st.sampled_from([WATER, ACID, GLYCEROL, OFF_HEAT, Step("stir"), Step("cool", to=30)]),
        st.builds(Step, do=st.sampled_from(["heat", "reheat"]), to=st.floats(20, 150)),
    ),
    max_size=8,
)


@given(_steps)
def test_no_heating_of_both_over_the_limit_goes_without_a_stop(steps):
    """Whatever the recipe: each step that heats both over 70 degC carries a stop."""
    stops = {each.step for each in findings(steps, CHEMISTRY) if each.level == "stop"}
    for number, step in enumerate(steps):
        names = {each.what for each in steps[:number]}
        together = {"glycerol", "oxalic acid dihydrate"} <= names
        if together and step.do in ("heat", "reheat") and step.to > 70:
            assert number in stops
