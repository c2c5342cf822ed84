"""What a record says, field by field, in words that can be spoken in any language."""

from __future__ import annotations

from datetime import date
from typing import Any

from fieldapp.husbandry.amounts import measured
from fieldapp.husbandry.vocabulary import word
from fieldapp.journal.called import field_called
from fieldapp.journal.record import Record
from fieldapp.rounds.look_form import answer_words
from fieldapp.rounds.look_questions import OF_KIND
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.spots import WHY
from fieldapp.words import Degrees, Phrase, listed, say

#: Fields that name other records: not for the eye.
_IDS = frozenset(
    {
        *("round", "terms", "plan", "joins", "batch", "gear", "application", "drawn", "sha256"),
        *("to_colony", "from_colony", "new_colony", "records"),
    }
)
#: Fields that name another hive.
_HIVES = frozenset({"to_hive", "from_hive", "of_hive"})
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
    "set": say("set: from this day on"),
    "lifted": say("lifted: from this day on"),
}


def fields_of(notebook: Notebook, record: Record) -> dict[str, Phrase]:
    """Return what a record says, field by field, in words; ids are left out."""
    known = {question.name: question for question in OF_KIND.get(record.kind, ())}
    found: dict[str, Phrase] = {}
    for name, value in record.body.items():
        if name in _IDS:
            continue
        field = field_called(name, record.kind)
        said: Phrase | str | None
        if name in known:
            field, said = known[name].words, answer_words(known[name], record.body)
        elif name == "treatment":
            terms = notebook.book.terms().get(str(value))
            said = terms.name if terms is not None else str(value)
        elif name == "temperature":
            said = say("{degrees}", degrees=Degrees(value))
        elif name in _HIVES:
            said = notebook.book.hive(str(value)).number
        elif name == "supers_along":
            said = listed(value) if value else say("none")
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
