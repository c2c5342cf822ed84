"""From what a round takes: how many of a dose's basis a hive has, and from which lot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from fieldapp.husbandry.amounts import PIECE_UNITS
from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.ledger.units import told_in
from fieldapp.rounds.notebook import Notebook

#: Names the check for a batch in a round's checks: whether it is clear.
CLEAR = "batch clear"
#: What an application says of its batch, by the answer to that check.
CLEARNESS = {"yes": "clear", "no": "cloudy"}
#: Where a record of a hive has how many of a basis there were.
_FIELDS = {
    "seam": "seams",
    "frame of bees": "frames_of_bees",
    "box": "boxes",
    "brood chamber": "boxes",
}


def last_counted(notebook: Notebook, hive: str, per: str) -> float | None:
    """Return how many of what a dose is `per` a hive had last; None where nobody counted."""
    field = _FIELDS.get(per, "")
    if not field:
        return None
    year = notebook.today() - timedelta(days=365)
    for since in (year, None):  # years are not gone through for what was counted of late
        for entry in notebook.book.history(hive, since=since):
            number = entry.holds.body.get(field)
            if not entry.void and number is not None:
                return float(number)
    return None


def lots_for(notebook: Notebook, treatment: str, day: date) -> list[Lot]:
    """Return the lots that a round may take from, the newest first.

    Something is left of them, their last day is not over, and they are for this treatment; or
    they were mixed, and nobody said for which.
    """
    return [
        lot
        for lot in reversed(notebook.shelf.ledger().stock.lots)
        if lot.left
        and (lot.last_day is None or lot.last_day >= day)
        and (lot.treatment == treatment or (lot.mixed and not lot.treatment))
    ]


def supposed(lots: Sequence[Lot], treatment: str) -> Lot | None:
    """Return the lot that a round takes from if the keeper says nothing else: the only one."""
    own = [lot for lot in lots if lot.treatment == treatment]
    return own[0] if len(own) == 1 else None


def in_lots_unit(amount: float, unit: str, lot: Lot) -> float | None:
    """Return an amount in the unit of a lot; None where it cannot be told.

    A piece is one of what is kept by number under the name that its packet has.
    """
    if unit in PIECE_UNITS and told_in(1.0, lot.unit, "g") is None:
        return amount if told_in(1.0, lot.unit, "mL") is None else None
    return told_in(amount, unit, lot.unit)


def drawn(lot: Lot | None, dose: Mapping[str, Any] | None) -> dict[str, Any]:
    """Return the fields of an ``application`` body that say from what it was taken."""
    if lot is None:
        return {}
    if lot.mixed:
        return {"batch": lot.id}
    if dose is None or dose["per"] not in ("colony", "hive"):
        return {}
    amount = in_lots_unit(dose["amount"], dose["unit"], lot)
    if not amount:
        return {}
    return {"drawn": [{"lot": lot.id, "amount": round(amount, 3), "unit": lot.unit}]}
