"""Recipes, scaling, strength, what a percentage means."""

from __future__ import annotations

import pytest
from computing_cases import CHEMISTRY
from hypothesis import given
from hypothesis import strategies as st
from mixing_cases import BRITISH, BY_NAME, GERMAN, ITALIAN, POWDER, made, percents

from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.mixing.contents import anhydrous_share, contents, of
from fieldapp.husbandry.mixing.recipe import (
    Recipe,
    Step,
    made_for,
    scaled,
    wanted,
)
from fieldapp.husbandry.mixing.solubility import crystals
from fieldapp.husbandry.mixing.strength import (
    Strength,
    acid_grams,
    implausible,
    meant_by,
    strengths,
)


@pytest.mark.parametrize(
    ("dihydrate", "anhydrous"), [(17.5, 12.5), (35.0, 25.0), (39.4, 28.1), (886, 632.7)]
)
def test_dihydrate_and_anhydrous_on_labels(dihydrate, anhydrous):
    """EU SPCs 71026 and AN 01519/2014 print both figures; molar masses 90.034 and 126.065."""
    assert dihydrate * anhydrous_share(CHEMISTRY) == pytest.approx(anhydrous, abs=0.1)


def test_the_ratio_of_the_two_forms():
    """Computed: anhydrous is 0.71419 of dihydrate, dihydrate 1.40019 of anhydrous."""
    assert anhydrous_share(CHEMISTRY) == pytest.approx(0.71419, abs=5e-6)
    one = of("oxalic acid anhydrous", Interval(1.0, 1.0), CHEMISTRY)
    assert one.dihydrate.low == pytest.approx(1.40019, abs=5e-6)
    assert one.mass().low == pytest.approx(1.0)


def test_german_standard_recipe():
    """Federal standard text of 26 October 2006: 500 mL, relative density 1.236, 3.5 % m/V."""
    mix = contents(GERMAN.steps, CHEMISTRY)
    assert mix.volume(CHEMISTRY).low == pytest.approx(500, rel=0.002)
    assert mix.mass().low / 500 == pytest.approx(1.236, abs=0.001)
    found = percents(GERMAN)
    assert found["dihydrate", "w/v"] == pytest.approx(3.5, abs=0.01)
    assert found["anhydrous", "w/v"] == pytest.approx(2.5, abs=0.01)


@pytest.mark.parametrize(
    ("recipe", "litres", "anhydrous"),
    [(BRITISH, 1.677, 3.19), (ITALIAN, 1.693, 4.22), (POWDER, 0.5236, 4.23)],
    ids=["75 g (kendalbeekeepers.org.uk)", "100 g (Prandin et al.)", "powder (GDSA-IF)"],
)
def test_recipes_that_print_the_anhydrous_percentage(recipe, litres, anhydrous):
    """3.2 and 4.2 % are w/v anhydrous, computed from the recipes' volumes."""
    mix = contents(recipe.steps, CHEMISTRY)
    assert mix.volume(CHEMISTRY).low == pytest.approx(litres * 1000, rel=0.0015)
    assert percents(recipe)["anhydrous", "w/v"] == pytest.approx(anhydrous, abs=0.015)


@pytest.mark.parametrize(
    ("recipe", "means"),
    [
        (GERMAN, ("dihydrate", "w/v")),
        (BRITISH, ("anhydrous", "w/v")),
        (ITALIAN, ("anhydrous", "w/v")),
        (POWDER, ("anhydrous", "w/v")),
    ],
    ids=lambda each: each.name if isinstance(each, Recipe) else "-".join(each),
)
def test_which_of_the_four_a_printed_percentage_means(recipe, means):
    """Each published percentage fits one of the four, and one only."""
    mix = strengths(contents(recipe.steps, CHEMISTRY), CHEMISTRY)
    assert [(e.of, e.by) for e in meant_by(recipe.printed, mix, CHEMISTRY)] == [means]


def test_a_sachet_for_fifty_hives():
    """175 g of powder in 2.5 L of syrup are the recipe of 35 g in 500 mL (GDSA-IF), five times."""
    sachet = scaled(POWDER, 5)
    assert sachet.steps[3].amount == 175
    assert wanted(50, 50, margin_percent=0) == 2500


def test_german_standard_recipe_for_a_litre():
    """Computed: 35 g of dihydrate, 600.3 g of sugar and of water."""
    litre = made_for(GERMAN, 500, 1000)
    amounts = [step.amount for step in litre.steps if step.amount]
    assert amounts == pytest.approx([600.3, 35, 600.3])


@pytest.mark.parametrize(
    ("degc", "water", "glycerol"),
    [
        (0, 999.82, 1273.30),
        (10, 999.63, 1267.18),
        (20, 998.05, 1261.06),
        (25, 996.89, 1258.00),
        (30, 995.52, 1254.94),
        (40, 992.19, 1248.82),
    ],
)
def test_densities(degc, water, glycerol):
    """Volk and Kahler 2018 (Exp. Fluids), equations from memory, table computed, kg/m3.

    What ships is glycerol at 20 degC, and water at 20 degC, 0.15 above the fit.
    """
    assert 1000 * (1 - abs((degc - 3.98) / 615) ** 1.71) == pytest.approx(water, abs=0.02)
    assert 1273.3 - 0.6121 * degc == pytest.approx(glycerol, abs=0.01)
    if degc == 20:
        assert CHEMISTRY.figure("volume", "glycerol").low * 1000 == pytest.approx(glycerol)
        assert CHEMISTRY.figure("volume", "water").low * 1000 == pytest.approx(water, abs=0.2)


def test_35_grams_a_litre_is_not_3_2_percent():
    """It is 3.5 % w/v dihydrate, 2.5 % anhydrous; 3.2 fits none of the four."""
    mix = strengths(contents(GERMAN.steps, CHEMISTRY), CHEMISTRY)
    assert meant_by(3.2, mix, CHEMISTRY) == ()


def test_swiss_recipe_in_ready_syrup():
    """35 g in 1 L of 1:1 syrup (Bogdanov, Liebefeld) comes near 3.4 % w/v dihydrate."""
    swiss = percents(BY_NAME["35 g in 1 L of 1:1 syrup"])
    assert swiss["dihydrate", "w/v"] == pytest.approx(3.42, abs=0.01)


def test_swiss_spray():
    """30 g in a litre of water (Bogdanov, Liebefeld): plausible, clear where the table begins."""
    mix = contents(
        (Step("add", "water", 1, "L"), Step("add", "oxalic acid dihydrate", 30, "g")), CHEMISTRY
    )
    of_mix = strengths(mix, CHEMISTRY)
    assert of_mix[0].percent.low == pytest.approx(2.94, abs=0.01)
    assert implausible(of_mix) is None
    assert crystals(mix, CHEMISTRY).at(5) == "clear"


def test_an_excipient_without_room_makes_it_4_25():
    """Computed: 4.23 % anhydrous w/v, 4.25 if the powder's excipient takes no volume."""
    mix = contents(POWDER.steps, CHEMISTRY)
    bare = strengths(mix._replace(other=Interval(0.0, 0.0)), CHEMISTRY)
    assert bare[1].percent.low == pytest.approx(4.25, abs=0.005)


def test_a_slip_of_a_thousand_is_caught():
    """A published page has 70 mg a kg of sugar and L of water where 70 g are meant."""

    def mix(amount: float, unit: str):
        steps = made(
            Step("add", "water", 1, "L"),
            Step("add", "sucrose", 1, "kg"),
            Step("add", "oxalic acid dihydrate", amount, unit),
        ).steps
        return strengths(contents(steps, CHEMISTRY), CHEMISTRY)

    assert "slip of a thousand" in implausible(mix(70, "mg")).phrase.text
    assert "slip of a thousand" in implausible(mix(70, "kg")).phrase.text
    assert "outside anything published" in implausible(mix(3, "kg")).phrase.text
    assert implausible(mix(70, "g")) is None


@pytest.mark.parametrize("recipe", BY_NAME.values(), ids=list(BY_NAME))
def test_every_shipped_recipe_is_plausible_and_sourced(recipe):
    """What ships can be meant, and says where it stands."""
    assert implausible(strengths(contents(recipe.steps, CHEMISTRY), CHEMISTRY)) is None
    assert recipe.reason.source
    assert recipe.reason.standing in ("read", "reported")


@given(st.floats(0.01, 100))
def test_scaling_up_and_down_returns(factor):
    """A recipe made larger and smaller again has its own amounts."""
    back = scaled(scaled(GERMAN, factor), 1 / factor)
    for one, two in zip(back.steps, GERMAN.steps, strict=True):
        assert (one.amount or 0) == pytest.approx(two.amount or 0, rel=1e-12)
        assert (one.do, one.what, one.unit, one.to) == (two.do, two.what, two.unit, two.to)
    assert back.yield_ml == pytest.approx(500)


@given(st.floats(0.01, 100), st.sampled_from(list(BY_NAME.values())))
def test_strength_never_depends_on_the_batch_size(factor, recipe):
    """All four percentages stay, however much is made."""
    assert percents(scaled(recipe, factor)) == pytest.approx(percents(recipe), rel=1e-9)


def test_made_for_the_round():
    """24 hives at 40 mL and 10 % over are 1056 mL, from a recipe of 500 mL."""
    need = wanted(24, 40, margin_percent=10)
    assert need == pytest.approx(1056)
    larger = made_for(GERMAN, 500, need)
    assert larger.yield_ml == pytest.approx(need)
    assert larger.steps[1].amount == pytest.approx(17.5 * 1056 / 500)


def test_acid_in_an_amount():
    """50 mL of 3.5 % w/v dihydrate hold 1.75 g; of 2.5 % anhydrous the same as dihydrate."""
    dihydrate = Strength(Interval(3.5, 3.5), "dihydrate", "w/v")
    anhydrous = Strength(Interval(2.5, 2.5), "anhydrous", "w/v")
    assert acid_grams(50, dihydrate, CHEMISTRY).low == pytest.approx(1.75)
    assert acid_grams(50, anhydrous, CHEMISTRY).low == pytest.approx(1.75, abs=0.001)


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (Step("add", "vinegar", 1, "L"), "weigh it"),
        (Step("add", "vinegar", 1, "kg"), "not known here"),
        (Step("add", "water"), "How much water"),
        (Step("add", "water", -1, "L"), "How much water"),
        (Step("add", "oxalic acid powder 2000 mg/g", 1, "g"), "over 0 up to 1000"),
        (Step("add", "oxalic acid powder many mg/g", 1, "g"), "over 0 up to 1000"),
    ],
)
def test_what_cannot_be_mixed_is_refused_in_words(step, words):
    """An unknown thing, an unknown amount, an impossible powder."""
    with pytest.raises(Unfitting, match=words):
        contents([step], CHEMISTRY)


def test_no_acid_no_strength_no_factor_of_zero():
    """Water has no strength, dry acid no clearness, and no recipe is made zero times."""
    water, acid = Step("add", "water", 1, "L"), Step("add", "oxalic acid dihydrate", 1, "g")
    with pytest.raises(Unfitting, match="no oxalic acid"):
        strengths(contents([water], CHEMISTRY), CHEMISTRY)
    with pytest.raises(Unfitting, match="no water"):
        crystals(contents([acid], CHEMISTRY), CHEMISTRY)
    with pytest.raises(Unfitting, match="above zero"):
        scaled(GERMAN, 0)
