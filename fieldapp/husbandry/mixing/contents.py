"""What is in a mix, in grams, and how much room it takes.

Volumes are computed: water and glycerol by their densities, dissolved sugar and oxalic acid by
an apparent volume fitted to a published finished volume; they are *about*. An amount measured
by spoon is a range, and stays one all the way.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.mixing import measures
from fieldapp.husbandry.mixing.recipe import Step
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import say

_NONE = Interval(0.0, 0.0)


class Contents(NamedTuple):
    """Grams of each part, from low to high. Oxalic acid stands as dihydrate, whatever went in."""

    water: Interval = _NONE
    sucrose: Interval = _NONE
    dihydrate: Interval = _NONE
    glycerol: Interval = _NONE
    other: Interval = _NONE

    def plus(self, added: Contents) -> Contents:
        """Return both together."""
        both = zip(self, added, strict=True)
        return Contents(*(Interval(a.low + b.low, a.high + b.high) for a, b in both))

    def mass(self) -> Interval:
        """Return grams of the whole mix."""
        return Interval(sum(part.low for part in self), sum(part.high for part in self))

    def volume(self, chemistry: Table) -> Interval:
        """Return mL of the whole mix at room temperature, about."""
        low, high = self._ends(chemistry, low=True), self._ends(chemistry, low=False)
        return Interval(low, high)

    def _ends(self, chemistry: Table, *, low: bool) -> float:
        water, sucrose, acid, glycerol, other = (part.low if low else part.high for part in self)
        dissolved = chemistry.figure("volume", "dissolved").low
        return (
            water / chemistry.figure("volume", "water").low
            + glycerol / chemistry.figure("volume", "glycerol").low
            + (sucrose + acid + other) * dissolved
        )


def anhydrous_share(chemistry: Table) -> float:
    """Return grams of anhydrous oxalic acid in one gram of dihydrate."""
    anhydrous = chemistry.figure("oxalic", "molar_anhydrous").low
    return anhydrous / chemistry.figure("oxalic", "molar_dihydrate").low


def of(what: str, grams: Interval, chemistry: Table) -> Contents:
    """Return the contents of `grams` of `what`.

    Raises `Unfitting` for a thing that this product does not know.
    """
    if what in ("water", "sucrose", "glycerol"):
        return Contents(**{what: grams})
    if what == "syrup 1:1":
        return Contents(water=grams.scaled(0.5), sucrose=grams.scaled(0.5))
    if what.startswith("oxalic acid "):
        return _acid(what, grams, chemistry)
    raise _unknown(what)


def _acid(what: str, grams: Interval, chemistry: Table) -> Contents:
    if what == "oxalic acid dihydrate":
        return Contents(dihydrate=grams)
    if what == "oxalic acid anhydrous":
        # It takes up the water that the dihydrate brings along.
        grows = 1 / anhydrous_share(chemistry)
        taken = Interval(grams.low * (1 - grows), grams.high * (1 - grows))
        return Contents(dihydrate=grams.scaled(grows), water=taken)
    if what.startswith("oxalic acid powder ") and what.endswith(" mg/g"):
        share = _milligrams(what) / 1000
        return Contents(dihydrate=grams.scaled(share), other=grams.scaled(1 - share))
    raise _unknown(what)


def _unknown(what: str) -> Unfitting:
    return Unfitting(
        say(
            "{what} is not known here. Known are water, sucrose, syrup 1:1, glycerol, oxalic acid "
            "dihydrate, oxalic acid anhydrous, and oxalic acid powder with its mg/g of dihydrate.",
            what=what,
        )
    )


def _milligrams(name: str) -> float:
    text = name.removeprefix("oxalic acid powder ").removesuffix(" mg/g")
    try:
        share = float(text)
    except ValueError:
        share = 0.0
    if not 0 < share <= 1000:
        raise Unfitting(say("A powder holds over 0 up to 1000 mg/g, not {text}.", text=text))
    return share


def contents(steps: Iterable[Step], chemistry: Table) -> Contents:
    """Return all that the steps add together.

    Raises `Unfitting` where an addition does not say how much, or cannot be told in grams.
    """
    total = Contents()
    for step in steps:
        if not step.what:
            continue
        if step.amount is None or step.amount < 0:
            raise Unfitting(say("How much {what} goes in is not known.", what=word(step.what)))
        total = total.plus(of(step.what, _grams(step, step.amount, chemistry), chemistry))
    return total


def _grams(step: Step, amount: float, chemistry: Table) -> Interval:
    if step.what == "syrup 1:1" and not measures.is_mass(step.unit):
        volume = measures.convert(amount, step.unit, "mL")
        one = Contents(water=Interval(0.5, 0.5), sucrose=Interval(0.5, 0.5)).volume(chemistry)
        return Interval(volume / one.low, volume / one.low)
    return measures.grams(step.what, amount, step.unit, chemistry)
