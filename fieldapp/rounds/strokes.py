"""What strokes give a hive, beside what labels give, and strokes for a dose written down."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.applicators import PerStroke, beside, given, unlabelled
from fieldapp.husbandry.errors import HusbandryError
from fieldapp.husbandry.labelled import labelled
from fieldapp.husbandry.mixing.recipe import read_recipes
from fieldapp.husbandry.mixing.strength import Strength
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.written import (
    NOT_WRITTEN,
    WrittenDose,
    by_label,
    by_veterinarian,
    strokes_for,
)
from fieldapp.rounds.errors import TreatmentGone
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.terms import terms_body
from fieldapp.words import Phrase, count

#: The way of giving that an applicator with strokes is for.
METHOD = "mist"


class Gave(NamedTuple):
    """What strokes give: in words, beside labels, strokes for a written dose, and cautions.

    `times` are the ratios of `beside` without where the labels stand.
    """

    words: Phrase
    times: tuple[Phrase, ...]
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
    compared = beside(found.grams, of_labels)
    return Gave(
        found.words,
        tuple(each.phrase for each in compared),
        tuple(why(compared)),
        _reverse(notebook, country, stroke, strength),
        tuple(why(unlabelled(tables.chemistry))),
    )


def _reverse(notebook: Notebook, country: str, stroke: PerStroke, strength: Strength) -> Phrase:
    written = written_dose(notebook, country)
    if written is None:
        return NOT_WRITTEN.phrase
    chemistry = notebook.published.chemistry
    answer = strokes_for(written, METHOD, country, stroke, strength, chemistry)
    if isinstance(answer, Reason):
        return answer.phrase
    return count(
        "The written dose ({by}) is {n} stroke, rounded down.",
        "The written dose ({by}) is {n} strokes, rounded down.",
        answer,
        by=written.words,
    )


def written_dose(notebook: Notebook, country: str) -> WrittenDose | None:
    """Return the dose on record for this method in a country: a label's, else a veterinarian's."""
    chemistry = notebook.published.chemistry
    for identity, terms in notebook.book.terms().items():
        if terms.method == METHOD and terms.country == country:
            of_label = by_label(terms_body(notebook, identity), chemistry)
            if of_label is not None:
                return of_label
    for version in reversed(notebook.shelf.written_doses()):
        held = version.holds
        if held.void or held.body["country"] != country or held.hive is not None:
            continue
        if _method(notebook, held.body["treatment"]) == METHOD:
            return by_veterinarian(version, METHOD, chemistry)
    return None


def _method(notebook: Notebook, treatment: str) -> str:
    try:
        return str(terms_body(notebook, treatment)["method"])
    except TreatmentGone:
        return ""
