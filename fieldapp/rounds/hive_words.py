"""What a record says, field by field, in words that can be spoken in any language."""

from __future__ import annotations

from datetime import date
from typing import Any

from fieldapp.husbandry.amounts import measured
from fieldapp.husbandry.vocabulary import listed, word
from fieldapp.journal.record import Record
from fieldapp.rounds.look_form import answer_words
from fieldapp.rounds.look_questions import OF_KIND
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.spots import WHY
from fieldapp.words import Degrees, Phrase, say

#: Fields that name other records: not for the eye.
_IDS = frozenset({"round", "terms", "plan", "joins", "batch", "gear", "application", "drawn"})
_FIELDS: dict[str, Phrase] = {
    "treatment": say("Treatment"),
    "dose": say("Dose"),
    "pieces": say("Pieces put in"),
    "part": say("Part dose"),
    "supers": say("Supers"),
    "seams": say("Seams of bees"),
    "reason": say("Reason"),
    "why": say("Why"),
    "did": say("What was done"),
    "count": say("Pieces"),
    "seen": say("Lost: how do you know?"),
    "way": say("Way of counting"),
    "fluid": say("With"),
    "mites": say("Mites"),
    "bees": say("Bees"),
    "bees_by": say("Bees by"),
    "measure": say("Measure"),
    "grams": say("Grams of bees"),
    "purpose": say("Counted for"),
    "days": say("Days the board was in"),
    "board_part": say("Part of the board"),
    "words": say("Words"),
    "amount": say("How much"),
    "unit": say("Unit"),
    "what": say("What"),
    "mark": say("Mark"),
    "number": say("Number"),
    "strokes": say("Strokes"),
    "clear": say("The batch"),
    "temperature": say("Temperature"),
    "lot": say("Lot"),
    "product": say("Product"),
    "expiry": say("Last day"),
    "keep_until": say("Keep until"),
    "supplier": say("Supplier"),
    "address": say("Supplier's address"),
    "proof": say("Proof"),
    "prescription": say("Prescription"),
    "price": say("Price"),
    "currency": say("Paid in"),
    "recipe": say("Recipe"),
    "strength": say("Strength, %"),
    "strength_of": say("Strength of"),
    "strength_as": say("Strength by"),
    "how": say("How"),
    "where": say("Where"),
    "name": say("Name"),
    "opened": say("Opened on"),
    "change_after_hours": say("Change after, hours"),
    "hours": say("Hours run before"),
    "ended": say("Thrown away"),
    "of": say("Part of"),
    "jars": say("Where it went"),
}
#: Fields that hold a civil date.
_DAYS = frozenset({"expiry", "keep_until", "opened"})
#: Kinds whose ``lot`` is a record of the stock.
_OF_STOCK = frozenset({"disposed", "on_hand"})


_VALUES: dict[str, Phrase] = {
    "wash": say("wash"),
    "roll": say("roll"),
    "drop": say("mites on the board"),
    "alcohol": say("alcohol"),
    "soapy water": say("soapy water"),
    "icing sugar": say("icing sugar"),
    "carbon dioxide": say("carbon dioxide"),
    "counted": say("counted"),
    "weighed": say("weighed"),
    "measured": say("measured"),
    "season": say("the season"),
    "before": say("before a course"),
    "after": say("after a course"),
    "clear": say("clear"),
    "cloudy": say("cloudy"),
    "applicator": say("applicator"),
    "part": say("part that wears"),
    "filter": say("filter"),
    "thermometer": say("thermometer"),
    "other": say("other"),
}


def fields_of(notebook: Notebook, record: Record) -> dict[str, Phrase]:
    """Return what a record says, field by field, in words; ids are left out."""
    known = {question.name: question for question in OF_KIND.get(record.kind, ())}
    found: dict[str, Phrase] = {}
    for name, value in record.body.items():
        if name in _IDS:
            continue
        field: Phrase | str = _FIELDS.get(name, name)
        said: Phrase | str | None
        if name in known:
            field, said = known[name].words, answer_words(known[name], record.body)
        elif name == "treatment":
            terms = notebook.book.terms().get(str(value))
            said = terms.name if terms is not None else str(value)
        elif name == "temperature":
            said = say("{degrees}", degrees=Degrees(value))
        elif name in _DAYS:
            said = say("{day}", day=date.fromisoformat(value))
        elif name == "of" or (name == "lot" and record.kind in _OF_STOCK):
            said = _named(notebook, str(value))
        else:
            said = _plain(name, value)
        if said is not None:
            found[name] = say("{field}: {value}", field=field, value=said)
    return found


def _named(notebook: Notebook, root: str) -> Phrase | str:
    """Return what a lot of the stock or a piece of gear is called."""
    books = notebook.shelf.ledger()
    lot = books.stock.lot(root)
    if lot is not None:
        return lot.name
    return next((each.name for each in books.gear if each.id == root), say("not known"))


def _plain(name: str, value: Any) -> Phrase | str | None:
    """Return a value in words; None for what has none."""
    if isinstance(value, bool):
        return say("yes") if value else say("no")
    if name == "dose":
        return measured(value["amount"], value["unit"])
    if name == "strokes":
        return listed(
            say("{place} {n}", place=word(each["place"]), n=each["strokes"]) for each in value
        )
    if isinstance(value, int | float | str):
        if isinstance(value, str):
            return _VALUES.get(value) or WHY.get(value) or word(value)
        return f"{value:g}"
    return None
