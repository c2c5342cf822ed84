"""Stock to buy: what courses going on still need, against what is on hand and not expired."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.amounts import units as words_of
from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.ledger.books import Ledger
from fieldapp.husbandry.ledger.drawing import Drawing
from fieldapp.husbandry.ledger.needs import Need
from fieldapp.husbandry.ledger.stock import Lot
from fieldapp.husbandry.ledger.units import ROUNDING, tidy, told_in
from fieldapp.words import count, say


class Shortage(NamedTuple):
    """Too little of a treatment on hand for what is planned, the first of it needed on `by`."""

    treatment: str
    by: date | None
    reasons: tuple[Reason, ...]


def shortages(ledger: Ledger, needed: Iterable[Need], day: date) -> list[Shortage]:
    """Return what is to be bought or mixed.

    What a hive needs is what it got the last time. A treatment of which no lot was ever written
    down is passed over: nothing is known of its stock, and nobody keeps it here.
    """
    by_treatment: defaultdict[str, list[Need]] = defaultdict(list)
    for need in needed:
        by_treatment[need.treatment].append(need)
    found = []
    for treatment, wanted in sorted(by_treatment.items()):
        lots = [lot for lot in ledger.stock.lots if lot.treatment == treatment and lot.got <= day]
        if lots and (short := _short(treatment, wanted, lots, day)) is not None:
            found.append(short)
    return found


def _short(
    treatment: str, wanted: Sequence[Need], lots: Sequence[Lot], day: date
) -> Shortage | None:
    last = _last_amounts(lots)
    known = [(need, last[need.hive]) for need in wanted if need.hive in last]
    units = {unit for _, (_, unit) in known}
    fresh = [lot for lot in lots if lot.left and (lot.last_day is None or lot.last_day >= day)]
    roots = tuple(lot.id for lot in lots)
    by = min((need.by for need in wanted if need.by is not None), default=None)
    reasons = [Reason(lot.balance, (lot.id,)) for lot in fresh]
    planned = sum(need.applications for need in wanted)
    if len(units) != 1:
        if fresh:
            return None
        said = count(
            "{n} application planned, none on hand",
            "{n} applications planned, none on hand",
            planned,
        )
        return Shortage(treatment, by, (Reason(said, roots),))
    unit = units.pop()
    need_all = tidy(sum(need.applications * amount for need, (amount, _) in known))
    told = [(lot, told_in(lot.on_hand, lot.unit, unit)) for lot in fresh]
    on_hand = tidy(sum(amount for _, amount in told if amount is not None))
    if on_hand >= need_all * (1 - ROUNDING):
        return None
    said = say(
        "planned applications need {need} {unit}, {left} on hand",
        need=need_all,
        unit=words_of(unit, need_all),
        left=on_hand,
    )
    first = [Reason(said, roots)]
    if len(known) < len(wanted):
        more = count(
            "{n} hive besides: how much it needs is not known",
            "{n} hives besides: how much they need is not known",
            len(wanted) - len(known),
        )
        first.append(Reason(more))
    return Shortage(treatment, by, (*first, *reasons))


def _last_amounts(lots: Sequence[Lot]) -> dict[str, tuple[float, str]]:
    """Return what each hive got the last time: amount and unit."""
    drawn: list[Drawing] = [
        drawing
        for lot in lots
        for drawing in lot.drawn
        if drawing.by == "application" and drawing.amount is not None
    ]
    return {
        drawing.hive: (drawing.amount, drawing.unit)
        for drawing in sorted(drawn, key=lambda drawing: drawing.key)
        if drawing.amount is not None
    }
