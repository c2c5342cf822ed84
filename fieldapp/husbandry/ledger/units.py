"""Amounts that add up: in one unit, or told from one unit in another, never guessed."""

from __future__ import annotations

from fieldapp.husbandry.errors import HusbandryError
from fieldapp.husbandry.mixing.measures import convert

#: Differences under this share of an amount are rounding, not bees' business.
ROUNDING = 1e-6


def told_in(amount: float, unit: str, to: str) -> float | None:
    """Return `amount` of `unit` in the unit `to`; None where one cannot be told in the other.

    Words for things that are counted (*strip*, *tray*) go together only where they are the same
    word: nobody knows how many pads a tray holds.
    """
    if unit == to:
        return amount
    try:
        return convert(amount, unit, to)
    except HusbandryError:
        return None


def tidy(amount: float) -> float:
    """Return an amount without the dust of binary fractions."""
    return round(amount, 6) + 0.0
