"""Amounts and references in words, for every form of the book."""

from __future__ import annotations

from fieldapp.husbandry.amounts import measured
from fieldapp.papers.model import Amount, RecordBook, Treated
from fieldapp.words import Phrase, count, say


def lot_refs(book: RecordBook) -> dict[str, str]:
    """Return a short reference for each lot by its root's id: L1, L2 … bought, M1 … mixed."""
    refs: dict[str, str] = {}
    numbers = {"L": 0, "M": 0}
    known = {lot.id: lot for lot in book.lots}
    for each in book.treated:
        known |= {lot.id: lot for lot in each.lots}
    for lot in sorted(known.values(), key=lambda lot: (lot.got, lot.id)):
        letter = "M" if lot.mixed else "L"
        numbers[letter] += 1
        refs[lot.id] = f"{letter}{numbers[letter]}"
    return refs


def amount_words(treated: Treated) -> Phrase:
    """Return what was given: *30 mL of solution*, *2 pieces*, or *not known*."""
    if treated.amount is not None:
        return _amount(treated.amount)
    if treated.pieces is not None:
        return count("{n} piece", "{n} pieces", treated.pieces)
    return say("not known")


def _amount(amount: Amount) -> Phrase:
    said = measured(float(amount.amount), amount.unit)
    if amount.of not in ("", "piece", "nothing"):
        said = say("{amount} of {what}", amount=said, what=amount.of)
    if amount.per not in ("", "colony", "hive"):
        said = say("{amount} per {what}", amount=said, what=amount.per)
    return said
