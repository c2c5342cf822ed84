"""Which bought lots a batch may draw on, and what it took of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.ledger.units import told_in
from fieldapp.husbandry.mixing.contents import contents
from fieldapp.husbandry.mixing.recipe import Recipe
from fieldapp.rounds.notebook import Notebook


def weighed_lots(notebook: Notebook) -> list[Lot]:
    """Return the bought lots of which something is left and that are kept by mass."""
    return [
        lot
        for lot in notebook.shelf.ledger().stock.lots
        if not lot.mixed and lot.left and told_in(1.0, lot.unit, "g") is not None
    ]


def drawn(chosen: Sequence[Lot], recipe: Recipe, chemistry: Table) -> list[dict[str, Any]]:
    """Return what a batch took of its lots: the acid, where one lot gave all of it.

    With several lots nobody knows how much came from which, so no amount is made up.
    """
    if len(chosen) != 1:
        return []
    (lot,) = chosen
    masses = [
        contents([step], chemistry).mass()
        for step in recipe.steps
        if step.what.startswith("oxalic acid")
    ]
    amount = told_in(sum((each.low + each.high) / 2 for each in masses), "g", lot.unit)
    if not amount:
        return []
    return [{"lot": lot.id, "amount": round(amount, 3), "unit": lot.unit}]
