"""What was bought, mixed, disposed of, entered and drawn."""

from __future__ import annotations

from fieldapp.husbandry.amounts import measured
from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.vocabulary import word
from fieldapp.papers.layout import NOT_KNOWN, NOTHING, Cell, Section, Teller
from fieldapp.words import Phrase, say


def stock(tell: Teller) -> Section:
    """Return what was bought and mixed, with its balance."""
    rows = []
    for lot in tell.book.lots:
        came = _mixed(tell, lot) if lot.mixed else _bought(lot)
        last = say("{day}", day=lot.last_day) if lot.last_day else NOT_KNOWN
        balance = tell.signed("unknown" if lot.unknown else "", lot.balance)
        rows.append((tell.lots[lot.id], came[0], lot.product, came[1], last, *came[2:], balance))
    columns = (
        (say("Ref."), 4),
        (say("Got on"), 9),
        (say("Product"), 15),
        (say("Lot"), 8),
        (say("Last day"), 9),
        (say("Supplier and address"), 17),
        (say("Proof"), 9),
        (say("Prescription"), 9),
        (say("Balance"), 20),
    )
    return tell.section(
        say("Bought and mixed"),
        tell.table(columns, rows),
        say("With what was used, disposed of and is left."),
    )


def _bought(lot: Lot) -> tuple[Cell | Phrase | str, ...]:
    """Return when, lot number, supplier, proof and prescription of a purchase."""
    body = lot.record.body
    supplier = say(
        "{name}; {address}",
        name=body.get("supplier") or NOT_KNOWN,
        address=body.get("address") or say("address not known"),
    )
    return (
        say("bought {day}", day=lot.got),
        lot.number,
        supplier,
        body.get("proof", ""),
        body.get("prescription", ""),
    )


def _mixed(tell: Teller, lot: Lot) -> tuple[Cell | Phrase | str, ...]:
    """Return the same of a batch: what it was made from stands for its supplier."""
    drawn = [tell.lots.get(each["lot"], "?") for each in lot.record.body.get("drawn", ())]
    origin = say("from {lots}", lots=", ".join(drawn)) if drawn else NOT_KNOWN
    return (say("mixed {day}", day=lot.got), NOTHING, origin, NOTHING, NOTHING)


def disposed(tell: Teller) -> Section:
    """Return what was disposed of."""
    rows = [
        (
            say("{day}", day=each.day),
            tell.lots.get(each.lot.id, "") if each.lot else "",
            measured(float(each.amount), each.unit),
            word(each.how),
            each.where,
            each.person,
        )
        for each in tell.book.disposed
    ]
    columns = (
        (say("Disposed on"), 12),
        (say("Ref."), 6),
        (say("Amount"), 12),
        (say("How"), 30),
        (say("Where"), 28),
        (say("By"), 12),
    )
    return tell.section(say("Disposed of"), tell.table(columns, rows))


def periods(tell: Teller) -> Section:
    """Return the withdrawal periods that somebody entered."""
    rows = [(say("{day}", day=e.day), e.words, e.person) for e in tell.book.periods]
    columns = (
        (say("Entered on"), 14),
        (say("Treatment, period, who gave it"), 72),
        (say("By"), 14),
    )
    return tell.section(say("Withdrawal periods entered"), tell.table(columns, rows))


def drawn(tell: Teller) -> Section:
    """Return the honey drawn, and what of it is to be held."""
    rows = []
    for each in tell.book.drawn:
        amount = measured(float(each.amount), each.unit) if each.amount is not None else NOT_KNOWN
        held = "; ".join(map(tell.say, each.held))
        rows.append(
            (
                say("{day}", day=each.day),
                each.lot,
                ", ".join(each.hives),
                amount,
                each.went,
                Cell(held, "late") if held else NOTHING,
            )
        )
    columns = (
        (say("Drawn on"), 11),
        (say("Honey lot"), 13),
        (say("Hives"), 28),
        (say("Amount"), 11),
        (say("Where it went"), 20),
        (say("Hold"), 17),
    )
    return tell.section(say("Honey drawn"), tell.table(columns, rows))
