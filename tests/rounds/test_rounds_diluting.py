"""An acid diluted at the bench: nothing assumed, the water first, by volume only with a density."""

from __future__ import annotations

import pytest

from fieldapp.rounds.diluting import Diluting
from fieldapp.words import Speech, habits_of

SPEAK = Speech(habits=habits_of("DE"))


@pytest.fixture
def diluting(phone):
    phone.set_up(2, country="DE")
    return Diluting(phone.notebook)


def fill(diluting, **values):
    for name, value in values.items():
        diluting.take(name, value)


def told(diluting):
    return [(each.sign, SPEAK(each.words)) for each in diluting.told()]


def test_lactic_acid_to_15_percent_by_mass_and_by_volume(diluting):
    """Six litres of water for each litre of 90 % make 15 %: a sheet, studylibde.com/doc/3188854.

    Its density, 1.2 g/mL, stands here from memory: 1.2 kg of acid and 5.99 of water are 7.19 kg.
    """
    fill(diluting, percent=90, wanted=15, makes=7190, density=1.2)
    assert told(diluting) == [
        ("due", "First the water: 5992 g"),
        ("due", "Then into it the acid: 1198 g"),
        (
            "quiet",
            "By volume: about 6002 mL of water, 999 mL of acid. Weighing is better.",
        ),
    ]
    [mind] = diluting.told()[1].why
    assert SPEAK(mind).startswith("acid into water, never water into acid")


def test_without_a_density_the_volume_is_not_known(diluting):
    """None is assumed: it stands on the bottle."""
    fill(diluting, percent=60, wanted=15, makes=100)
    assert told(diluting)[:2] == [
        ("due", "First the water: 75 g"),
        ("due", "Then into it the acid: 25 g"),
    ]
    assert told(diluting)[2][0] == "unknown"


def test_nothing_is_reckoned_from_half_of_it(diluting):
    """Each of the three is needed; zero takes an answer back."""
    for name in ("percent", "wanted", "makes"):
        assert [sign for sign, _ in told(diluting)] == ["unknown"]
        fill(diluting, **{name: 30 if name == "percent" else 10})
    assert len(told(diluting)) == 3
    fill(diluting, makes=0)
    assert [sign for sign, _ in told(diluting)] == ["unknown"]


def test_water_makes_no_acid_stronger(diluting):
    """Said in words; nothing to mix stands there."""
    fill(diluting, percent=15, wanted=60, makes=100)
    [(sign, words)] = told(diluting)
    assert (sign, words[:25]) == ("late", "Water makes an acid weake")


def test_what_was_tapped_in_survives_the_program_and_is_cleared(diluting, phone):
    """Hands are washed in between."""
    fill(diluting, percent=60, wanted=15, makes=100)
    again = Diluting(phone.notebook)
    assert again.told() == diluting.told()
    again.clear()
    assert Diluting(phone.notebook).value("percent") is None
