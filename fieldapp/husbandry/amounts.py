"""Amounts of a dose in words."""

from __future__ import annotations

from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase, counted, say

#: Units of things that go in and must come out.
PIECE_UNITS = frozenset({"piece", "tray", "tablet"})


def measured(amount: float, unit: str, per: str = "hive") -> Phrase:
    """Return an amount with its unit in words, and per what where that is no hive."""
    return _per(number_of(amount, word(unit)), per)


def number_of(amount: float, unit: Phrase | str) -> Phrase:
    """Return a number with what it is of: *1 day*, *2.5 days*."""
    return say("{amount} {unit}", amount=amount, unit=counted(unit, amount))


def units(unit: str, amount: float = 2) -> Phrase | str:
    """Return a unit in words, in the form that goes with an amount; without one, of several."""
    return counted(word(unit), amount)


def _per(said: Phrase, per: str) -> Phrase:
    forms = {
        "seam": lambda: say("{each} a seam", each=said),
        "brood chamber": lambda: say("{amount} a brood chamber", amount=said),
        "box": lambda: say("{amount} a box", amount=said),
        "frame of bees": lambda: say("{amount} a frame of bees", amount=said),
        "comb side": lambda: say("{amount} a comb side", amount=said),
    }
    return forms[per]() if per in forms else said
