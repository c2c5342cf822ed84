"""Will it stay clear: about which temperature crystals are to be expected.

Reckoned on the water in the mix alone, from a table that does not say whether its grams are
anhydrous or dihydrate; so both readings are given, as *about*. Nothing is extrapolated.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.mixing.contents import Contents, anhydrous_share
from fieldapp.words import say


class Crystals(NamedTuple):
    """The degC about which crystals come, under both readings of the table.

    An end that is minus infinity lies under the table's first temperature, one that is
    infinity over its last.
    """

    if_anhydrous: Interval
    if_dihydrate: Interval
    reasons: tuple[Reason, ...]

    def at(self, temperature: float) -> str:
        """Return *clear*, *crystals* or *not known* at `temperature` degC, sugar apart."""
        low = min(self.if_anhydrous.low, self.if_dihydrate.low)
        high = max(self.if_anhydrous.high, self.if_dihydrate.high)
        if temperature > high:
            return "clear"
        return "crystals" if temperature < low else "not known"


def points(chemistry: Table) -> tuple[tuple[float, float], ...]:
    """Return the table of solubility in water: degC and g/L, rising."""
    return tuple((float(t), float(g)) for t, g in chemistry.entries["solubility"]["points"])


def dissolves_from(grams_per_litre: float, chemistry: Table) -> float:
    """Return the degC at which the table's grams per litre are met, straight between its rows.

    Minus infinity below its first row, infinity above its last.
    """
    rows = points(chemistry)
    if grams_per_litre < rows[0][1]:
        return -math.inf
    for (cold, less), (warm, more) in pairwise(rows):
        if grams_per_litre <= more:
            return cold + (warm - cold) * (grams_per_litre - less) / (more - less)
    return math.inf


def crystals(mix: Contents, chemistry: Table) -> Crystals:
    """Return about which temperature crystals are to be expected in `mix`."""
    if mix.water.low <= 0:
        raise Unfitting(say("There is no water in this mix: the table says nothing about it."))
    per_litre = Interval(
        mix.dihydrate.low / _litres(mix.water.high, chemistry),
        mix.dihydrate.high / _litres(mix.water.low, chemistry),
    )
    share = anhydrous_share(chemistry)
    entry = chemistry.entries["solubility"]
    source = chemistry.sources[entry["source"]].cite()
    both = say("reckoned on the water alone; the table does not say which of two readings is meant")
    return Crystals(
        Interval(*(dissolves_from(end * share, chemistry) for end in per_litre)),
        Interval(*(dissolves_from(end, chemistry) for end in per_litre)),
        (
            Reason(both, source=source, standing=entry["standing"]),
            Reason(say("sugar and glycerol shift it")),
            Reason(
                say("after cold storage: warm it, stir, and see that it is clear before dosing")
            ),
        ),
    )


def _litres(water_g: float, chemistry: Table) -> float:
    return water_g / chemistry.figure("volume", "water").low / 1000
