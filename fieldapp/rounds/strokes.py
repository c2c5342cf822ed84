"""What strokes give a hive, beside what labels give, and strokes for a dose written down."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.applicators import (
    PerStroke,
    WrittenDose,
    beside,
    given,
    strokes_for,
    unlabelled,
)
from fieldapp.husbandry.errors import HusbandryError
from fieldapp.husbandry.labelled import labelled
from fieldapp.husbandry.mixing.recipe import read_recipes
from fieldapp.husbandry.mixing.strength import Strength
from fieldapp.husbandry.spoken import why
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.terms import terms_body
from fieldapp.words import Phrase, count

#: The way of giving that an applicator with strokes is for.
METHOD = "mist"
#: The grounds on which a written dose counts.
_IN_HAND = "label in hand"


class Gave(NamedTuple):
    """What strokes give: in words, beside labels, strokes for a written dose, and cautions."""

    words: Phrase
    beside: tuple[Phrase, ...]
    reverse: Phrase
    first: tuple[Phrase, ...]


def gave(
    notebook: Notebook, places: Mapping[str, int], stroke: PerStroke, strength: Strength
) -> Gave | Phrase:
    """Return what strokes by place give, or why that cannot be told."""
    tables = notebook.published
    country = notebook.country or ""
    planned = {place: n for place, n in places.items() if n}
    try:
        found = given(planned, stroke, strength, tables.chemistry)
    except HusbandryError as error:
        return error.phrase
    of_labels = labelled(
        (each.terms_body() for each in notebook.library.treatments(country)),
        read_recipes(tables.recipes),
        tables.chemistry,
    )
    return Gave(
        found.words,
        tuple(why(beside(found.grams, of_labels))),
        _reverse(notebook, country, stroke, strength),
        tuple(why(unlabelled(tables.chemistry))),
    )


def _reverse(notebook: Notebook, country: str, stroke: PerStroke, strength: Strength) -> Phrase:
    written = _written(notebook, country)
    chemistry = notebook.published.chemistry
    answer = strokes_for(written, METHOD, country, stroke, strength, chemistry)
    if isinstance(answer, Reason):
        return answer.phrase
    return count(
        "The written dose is {n} stroke, rounded down.",
        "The written dose is {n} strokes, rounded down.",
        answer,
    )


def _written(notebook: Notebook, country: str) -> WrittenDose | None:
    """Return a dose in grams that a label in hand gives for this method in this country."""
    for identity, terms in notebook.book.terms().items():
        if terms.method != METHOD or terms.country != country:
            continue
        body = terms_body(notebook, identity)
        entry = body["values"].get("dose")
        if entry is None or entry["standing"] != _IN_HAND:
            continue
        document = str(body["sources"].get(entry["source"], {}).get("title", ""))
        for dose in entry["value"]:
            amount = dose.get("amount", dose.get("most"))
            whole = dose["per"] in ("colony", "hive") and dose["unit"] == "g"
            if whole and dose["of"] == "dihydrate" and amount:
                return WrittenDose(amount, METHOD, country, _IN_HAND, None, document)
    return None
