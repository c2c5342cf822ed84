"""Diluting an acid with water, reckoned by mass.

Percentages are w/w. Where the acid is measured by volume its density has to be known (it
stands on the bottle); none is assumed.
"""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Table
from fieldapp.words import say


class Dilution(NamedTuple):
    """Water to put acid into: g of each, what it makes in g, and what to mind."""

    acid: float
    water: float
    makes: float
    reasons: tuple[Reason, ...]


def diluted(acid_g: float, percent: float, to_percent: float) -> Dilution:
    """Return the water that brings `acid_g` grams of `percent` % acid down to `to_percent` %."""
    if acid_g <= 0 or not 0 < to_percent < percent <= 100:
        raise Unfitting(say("Water makes an acid weaker: the wanted % is under the one it has."))
    makes = acid_g * percent / to_percent
    mind = Reason(say("acid into water, never water into acid; stir, let it cool"))
    return Dilution(acid_g, makes - acid_g, makes, (mind,))


def acid_for(need_g: float, percent: float, to_percent: float) -> Dilution:
    """Return acid and water that make `need_g` grams of `to_percent` % from `percent` % acid."""
    if need_g <= 0 or percent <= 0:
        raise Unfitting(say("What is wanted and the strength of the acid are above zero."))
    return diluted(need_g * to_percent / percent, percent, to_percent)


def percent_after(
    acid_ml: float, density: float, percent: float, water_ml: float, chemistry: Table
) -> float:
    """Return the w/w % of `acid_ml` mL of acid (`density` in g/mL) in `water_ml` mL of water."""
    if min(acid_ml, density, percent) <= 0 or water_ml < 0:
        raise Unfitting(say("Acid, its density and its strength are above zero."))
    acid = acid_ml * density
    water = water_ml * chemistry.figure("volume", "water").low
    return percent * acid / (acid + water)
