"""How the answers about a label in hand are read back, and where they contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from fieldapp.husbandry.amounts import measured
from fieldapp.rounds.desk_form import Measured, Question
from fieldapp.rounds.look_form import Number
from fieldapp.words import Phrase, counted, say

#: Answers to gates that say more than the unit of what follows.
_TELLS = frozenset({"season", "zero", "courses", "applications"})
#: What is asked of, in short.
NAMES: dict[str, Phrase] = {
    "active": say("Active substance"),
    "method": say("Method"),
    "air": say("Vapour, mist or fumes"),
    "form": say("Form"),
    "name": say("Name in your lists"),
    "label": say("Label"),
    "issuer": say("Issued by"),
    "year": say("Year of the label"),
    "country": say("Country"),
    "seen": say("Label read on"),
    "applications": say("Applications a course"),
    "gap": say("Time between two"),
    "stay": say("Pieces stay in"),
    "rest": say("Rest before the next course"),
    "limit": say("Most in a year"),
    "dose": say("Dose"),
    "supers": say("Supers"),
    "combs_exposed": say("Combs present never for people"),
    "period": say("Honey withheld"),
    "temperature": say("Temperature"),
    "brood": say("Brood"),
    "queen": say("Queen"),
    "colony_size": say("Size of the colony"),
    "flow": say("Nectar flow"),
    "after_last_harvest": say("Only after the last harvest"),
    "whole_apiary": say("The whole apiary at once"),
    "prescription": say("On prescription only"),
    "reaches_capped": say("Reaches mites under cappings"),
    "class": say("Class of the substance"),
    "look_queen": say("Look for the queen after"),
    "hive_set_up": say("Hive set-up"),
    "cautions": say("Cautions"),
    "protective": say("What you wear"),
    "first_aid": say("First aid"),
}
#: What an answer means by the last part of its name.
_MEANS: dict[str, Callable[[Phrase | str], Phrase]] = {
    "least": lambda it: say("at least {it}", it=it),
    "target": lambda it: say("best {it}", it=it),
    "usual": lambda it: say("as a rule {it}", it=it),
    "most": lambda it: say("at most {it}", it=it),
    "cap": lambda it: say("at most {it} for one colony", it=it),
    "of": lambda it: say("of {it}", it=it),
    "per": lambda it: say("per {it}", it=it),
    "low": lambda it: say("from {it}", it=it),
    "high": lambda it: say("up to {it}", it=it),
    "from_day": lambda it: say("from day {it}", it=it),
    "to_day": lambda it: say("to day {it}", it=it),
    "honey_only": lambda it: say("for honey alone: {it}", it=it),
}
#: Pairs of ends of which the first is not above the second.
_ENDS = (
    ("least", "target"),
    ("least", "usual"),
    ("target", "most"),
    ("usual", "most"),
    ("least", "most"),
    ("least", "amount"),
    ("amount", "most"),
    ("low", "high"),
    ("from_day", "to_day"),
)


def said(gate: Question, parts: Sequence[Question], values: Mapping[str, Any]) -> Phrase | str:
    """Return the answer to a gate, or its part that `parts` are, in one line."""
    told = [
        _part(each, values)
        for each in parts
        if each.name in values and not each.name.endswith(".unit")
    ]
    if not told or values[gate.name] in _TELLS:
        told.insert(0, gate.said(values[gate.name]))
    line = told[0]
    for each in told[1:]:
        line = say("{first}; {then}", first=line, then=each)
    return line


def contradictions(values: Mapping[str, Any]) -> list[tuple[str, Phrase]]:
    """Return the questions whose answers cannot both be so, with the reason."""
    found = []
    for name, value in values.items():
        at, _, end = name.rpartition(".")
        for lower, upper in _ENDS:
            above = values.get(f"{at}.{upper}")
            if at and end == lower and above is not None and value > above:
                words = say("{lower} is more than {upper}", lower=float(value), upper=float(above))
                found.append((name, words))
    return found


def _part(question: Question, values: Mapping[str, Any]) -> Phrase | str:
    at, _, name = question.name.rpartition(".")
    value = values[question.name]
    it: Phrase | str = question.said(value)
    if at.startswith("dose.") and isinstance(question, Measured):
        it = measured(float(value), str(values.get(f"{at}.unit", "")))
    elif name in ("from_day", "to_day"):
        it = str(value)
    elif isinstance(question, Number | Measured):
        unit = counted(question.unit or "", float(value))
        it = say("{amount} {unit}", amount=float(value), unit=unit)
    means = _MEANS.get(name)
    told = it if means is None else means(it)
    if values.get("stay") == "two" and at == "stay.0":
        return say("with brood {it}", it=told)
    if values.get("stay") == "two" and at == "stay.1":
        return say("without brood {it}", it=told)
    return told
