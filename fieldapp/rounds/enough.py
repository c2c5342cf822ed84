"""Before a round: what its hives take together, and whether that is on hand."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.amounts import measured, units
from fieldapp.husbandry.dosing import Dose, Total, left, total
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.ledger import Lot
from fieldapp.rounds.amounts import Amount
from fieldapp.rounds.cautions import Fact
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.summary import listed
from fieldapp.rounds.taking import in_lots_unit, last_counted
from fieldapp.words import count, say


def told_enough(
    notebook: Notebook, hives: Sequence[str], amount: Amount, lot: Lot | None
) -> list[Fact]:
    """Return what the hives take together and what that leaves of a lot; None: no lot is known."""
    if amount.amount is None:
        return []
    needs = _needs(notebook, hives, amount)
    told: list[Fact] = []
    if needs.most:
        words = say("Together: {amount}", amount=measured(round(needs.most, 2), amount.unit))
        told.append(Fact(words, "quiet"))
    if needs.open:
        words = count(
            "Not in it, for nobody counted there: hive {numbers}",
            "Not in it, for nobody counted there: hives {numbers}",
            len(needs.open),
            numbers=listed(needs.open),
        )
        told.append(Fact(words, "unknown"))
    if lot is not None and needs.most:
        told += _of_lot(lot, needs, amount, len(hives) - len(needs.open))
    return told


def _needs(notebook: Notebook, hives: Sequence[str], amount: Amount) -> Total:
    """Return what the hives take; seams that are no quarters are as good as not counted."""
    by_hive: dict[str, Dose | None] = {}
    for hive in hives:
        try:
            given = amount.given(last_counted(notebook, hive, amount.per))
        except Unfitting:
            given = None
        dose = Dose(amount.when, given, given, given, amount.unit, amount.of, False, ())
        by_hive[notebook.book.hive(hive).number] = None if given is None else dose
    return total(by_hive)


def _of_lot(lot: Lot, needs: Total, amount: Amount, hives: int) -> list[Fact]:
    taken = in_lots_unit(needs.most, amount.unit, lot)
    if taken is None:
        words = say(
            "Whether {name} is enough cannot be told: it is kept in {unit}",
            name=lot.name,
            unit=units(lot.unit),
        )
        return [Fact(words, "unknown")]
    rest = left(lot.on_hand, [taken], taken / hives)
    if rest.amount < 0:
        words = say(
            "{name}: {left} on hand, {lacks} too little",
            name=lot.name,
            left=measured(lot.on_hand, lot.unit),
            lacks=measured(round(-rest.amount, 2), lot.unit),
        )
        return [Fact(words, "late")]
    words = say(
        "{name}: {left} on hand, {rest} left after it",
        name=lot.name,
        left=measured(lot.on_hand, lot.unit),
        rest=measured(round(rest.amount, 2), lot.unit),
    )
    if not rest.doses:
        return [Fact(words, "done")]
    more = count("for {n} hive more", "for {n} hives more", rest.doses)
    return [Fact(say("{words}, {more}", words=words, more=more), "done")]
