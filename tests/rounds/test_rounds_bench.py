"""The bench: a recipe for so many hives, heat, kitchen measures, the batch as written down."""

from __future__ import annotations

import pytest

from fieldapp.rounds.bench import Bench
from fieldapp.rounds.bench_told import (
    told_crystals,
    told_keeping,
    told_steps,
    told_strength,
)
from fieldapp.rounds.recipes import OwnRecipe, units_for
from fieldapp.words import Speech

SPEAK = Speech()
GERMAN = "3.5 % m/V trickle, 500 mL (2006)"
HOT = (170 - 32) / 1.8  # degC


@pytest.fixture
def bench(phone):
    phone.set_up(6, country="DE")
    bench = Bench(phone.notebook)
    bench.choose(GERMAN)
    return bench


def practice(phone) -> OwnRecipe:
    """Common practice, no source: water and acid to 170 degF, then glycerol off the heat."""
    own = OwnRecipe(phone.notebook)
    own.add("water", 0.75, "US cup")
    own.add("oxalic acid dihydrate", 4, "US tablespoon")
    own.heat(HOT)
    own.add("glycerol", 0.25, "US cup", off_heat=True)
    own.stir()
    return own


def figures(bench):
    return [SPEAK(told.figure) for told in told_steps(bench, bench.recipe) if told.figure]


def test_recipes_of_the_country_come_before_others(bench):
    """Germany's first; what is printed elsewhere is still there, with whose it is."""
    first = bench.recipes()[0]
    assert first.recipe.country == "DE"
    assert SPEAK(first.whose) == "DE, read"
    assert len(bench.recipes()) >= 6


def test_as_printed_until_number_and_dose_are_said(bench):
    """Nothing is assumed: the printed amounts stand."""
    assert bench.need is None
    assert figures(bench) == ["300 g", "17.5 g", "300 g"]


def test_made_for_six_hives_with_a_margin(bench):
    """Six hives of 50 mL and 10 %: 330 mL, so 66 % of the printed recipe."""
    bench.take_number(6)
    bench.take_each(50)
    assert bench.need == pytest.approx(330)
    assert figures(bench) == ["198 g", "11.6 g", "198 g"]
    bench.turn_margin()
    assert bench.need == pytest.approx(360)


def test_the_strength_does_not_change_with_the_batch(bench):
    """3.5 % printed means w/v as dihydrate, for 500 mL and for 330."""
    printed = [SPEAK(each.words) for each in told_strength(bench, bench.recipe)]
    assert "about 3.5 % w/v as dihydrate" in printed
    assert "The 3.5 % printed for it means w/v as dihydrate." in printed
    bench.take_number(6)
    bench.take_each(50)
    assert [SPEAK(each.words) for each in told_strength(bench, bench.recipe)] == printed


def test_without_scales_kitchen_measures_with_their_range(bench):
    """A spoon of powder is a range; sugar has to be weighed."""
    bench.turn_scales()
    under = [SPEAK(each) for told in told_steps(bench, bench.recipe) for each in told.under]
    assert any("US t" in each and " to " in each for each in under), under
    assert "sucrose has to be weighed" in under


def test_what_was_tapped_in_survives(bench, phone):
    """Hands are washed in between: another bench on this phone goes on where it was."""
    bench.take_number(6)
    bench.take_each(50)
    bench.go(2)
    again = Bench(phone.notebook)
    assert again.printed.title == GERMAN
    assert (again.number, again.each, again.at) == (6, 50, 2)


def test_common_practice_heats_a_caution_and_a_reheat_a_stop(phone):
    """Water and acid above 70 degC: take care; glycerol: let it fall; reheated mix: stop."""
    phone.set_up(1, country="US")
    bench = Bench(phone.notebook)
    own = practice(phone)
    findings = [finding for told in told_steps(bench, own.recipe) for finding in told.findings]
    assert [sign for sign, _ in findings] == ["unknown", "unknown", "unknown"]
    assert "Acid into water" in SPEAK(findings[0][1])
    assert "Let it fall under 70 °C first" in SPEAK(findings[2][1])
    own.heat(80)
    last = told_steps(bench, own.recipe)[-1].findings
    assert last[0][0] == "late"
    assert SPEAK(last[0][1]).startswith("Stop: never heat glycerol together with oxalic acid")


def test_a_thermometer_over_the_limit_is_a_stop(phone):
    """Let fall, the glycerol in, and then 82 degC measured: stop at that step."""
    phone.set_up(1, country="US")
    bench = Bench(phone.notebook)
    own = practice(phone)
    own.cool()
    bench.choose(own.save())
    assert all(told.findings == () for told in told_steps(bench, bench.recipe)[-1:])
    bench.measure(5, 82)
    assert told_steps(bench, bench.recipe)[5].findings[0][0] == "late"


def test_common_practice_is_strong_and_throws_crystals(phone):
    """About 18 to 22 % w/v dihydrate; crystals about 37 to 42 or 46 to 51 degC."""
    phone.set_up(1, country="US")
    bench = Bench(phone.notebook)
    bench.choose(practice(phone).save())
    (first, *_) = [SPEAK(each.words) for each in told_strength(bench, bench.recipe)]
    low, high = bench.strength.percent
    assert (low, high) == pytest.approx((18, 22), abs=0.7)
    assert first == f"about {low:.3g} to {high:.3g} % w/v as dihydrate"
    crystals = SPEAK(told_crystals(bench, bench.recipe)[0].words)
    assert crystals.startswith("Crystals under about 37 °C to 42 °C on one reading of the table")
    assert "about 46 °C to 5" in crystals


def test_no_number_of_days_is_proposed(bench):
    """None is published: the keeper sets a day, or the label says that none is set."""
    assert bench.keep_until is None
    assert "no days are published" in SPEAK(told_keeping(bench, bench.recipe)[0].words)
    label = [SPEAK(line) for line in bench.label(bench.batch())]
    assert "keep until: not set" in label
    bench.turn_weeks()
    label = [SPEAK(line) for line in bench.label(bench.batch())]
    assert "keep until 8 Jul 2026" in label


def test_a_batch_is_written_down_with_its_lot_and_label(bench, phone):
    """Recipe and version, amount, strength, what was drawn; the bottle says who and what."""
    phone.write(
        "bought",
        {"product": "oxalic acid dihydrate", "lot": "L7", "amount": 100, "unit": "g"},
    )
    (lot,) = bench.lots()
    bench.turn_lot(lot.id)
    bench.take_number(6)
    bench.take_each(50)
    lines = [SPEAK(line) for line in bench.save()]
    (record,) = phone.records("batch")
    assert record.body["recipe"] == GERMAN
    assert record.body["amount"] == 330
    assert record.body["treatment"] == "DE/standard-authorisation-3-5/2006/oxalic-acid/trickle"
    assert (record.body["strength"], record.body["strength_of"]) == (3.5, "dihydrate")
    assert record.body["drawn"] == [{"lot": lot.id, "amount": 11.55, "unit": "g"}]
    assert "made 1 Jul 2026 by Keeper" in lines
    assert "lots: L7" in lines
    assert any("CORROSIVE" in line for line in lines)
    assert phone.notebook.shelf.ledger().stock.lot(lot.id).on_hand == pytest.approx(88.45)
    assert Bench(phone.notebook).printed is None


def test_lots_not_named_are_said_to_be_not_known(bench):
    """Nothing chosen: the bottle says so, and nothing is drawn."""
    assert "lots not known" in [SPEAK(line) for line in bench.label(bench.batch())]


def test_own_recipes_come_first_and_keep_their_versions(phone):
    """The second under one name is version 2; both stay."""
    phone.set_up(1, country="US")
    for _ in range(2):
        own = practice(phone)
        own.name = "Winter mix"
        own.save()
    titles = [each.recipe.title for each in Bench(phone.notebook).recipes() if each.own]
    assert titles == ["Winter mix (2)", "Winter mix (1)"]


def test_what_has_no_density_is_weighed_only(phone):
    """Sugar in cups would be a guess: only g is offered."""
    phone.set_up(1)
    assert list(units_for(phone.notebook, "sucrose")) == ["g"]
    assert "US cup" in units_for(phone.notebook, "water")


def test_a_slip_of_a_thousand_is_caught(phone):
    """Grams where milligrams were meant: said first."""
    phone.set_up(1)
    own = OwnRecipe(phone.notebook)
    own.add("water", 100, "g")
    own.add("oxalic acid dihydrate", 7500, "g")
    bench = Bench(phone.notebook)
    bench.choose(own.save())
    first = told_strength(bench, bench.recipe)[0]
    assert first.sign == "late"
    assert "slip of a thousand" in SPEAK(first.words)
