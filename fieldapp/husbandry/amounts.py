"""Amounts of a dose in words."""

from __future__ import annotations

from fieldapp.words import Phrase, count, say

#: Units of things that go in and must come out.
PIECE_UNITS = frozenset({"piece", "tray", "tablet"})


def measured(amount: float, unit: str, per: str = "hive") -> Phrase:
    """Return an amount with its unit in words, and per what where that is no hive."""
    return _per(_measured(amount, unit), per)


def _measured(amount: float, unit: str) -> Phrase:
    if unit in PIECE_UNITS and amount == int(amount):
        whole = int(amount)
        forms = {
            "piece": lambda: count("{n} piece", "{n} pieces", whole),
            "tray": lambda: count("{n} tray", "{n} trays", whole),
            "tablet": lambda: count("{n} tablet", "{n} tablets", whole),
        }
        return forms[unit]()
    if unit in PIECE_UNITS:
        forms_of_part = {
            "piece": say("{amount} pieces", amount=amount),
            "tray": say("{amount} trays", amount=amount),
            "tablet": say("{amount} tablets", amount=amount),
        }
        return forms_of_part[unit]
    return say("{amount} {unit}", amount=amount, unit=unit)


def _per(said: Phrase, per: str) -> Phrase:
    forms = {
        "seam": lambda: say("{each} a seam", each=said),
        "brood chamber": lambda: say("{amount} a brood chamber", amount=said),
        "box": lambda: say("{amount} a box", amount=said),
        "frame of bees": lambda: say("{amount} a frame of bees", amount=said),
        "comb side": lambda: say("{amount} a comb side", amount=said),
    }
    return forms[per]() if per in forms else said
