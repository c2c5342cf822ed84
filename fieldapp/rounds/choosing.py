"""Choosing where and with what: apiaries nearest first, treatments of the country."""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from fieldapp.husbandry.library import Treatment
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.terms import OWN
from fieldapp.words import Phrase, say


class TreatmentChoice(NamedTuple):
    """A treatment to choose, with what must be said of it at once."""

    identity: str
    name: str
    label: Phrase | str
    used: bool
    published: bool
    cautions: tuple[str, ...]


def treatments(notebook: Notebook, country: str | None) -> list[TreatmentChoice]:
    """Return what may be chosen in a country: those used before first, then the library's.

    What the keeper once fixed in a ``terms`` record stays on the list, whatever a later
    library has. Without a country only methods that have no label are offered.
    """
    used = notebook.book.terms()
    chosen = [
        _known(each.identity, each, used=each.identity in used)
        for each in notebook.library.treatments(country or "")
        if each.form != "act"
    ]
    listed = {choice.identity for choice in chosen}
    for identity, terms in used.items():
        if identity not in listed and terms.country in (country, None):
            own = identity.startswith(OWN)
            label = say("your own, by its label in hand") if own else terms.country
            chosen.append(TreatmentChoice(identity, terms.name, label, True, terms.published, ()))
    return sorted(chosen, key=lambda choice: (not choice.used, choice.name))


def pieces_in(notebook: Notebook, apiary: str) -> list[tuple[str, str, int]]:
    """Return the treatments of which pieces are in hives of an apiary: name, in how many."""
    found: Counter[str] = Counter()
    for stop in notebook.book.walk(apiary, notebook.today(apiary)):
        exposures = notebook.book.hive(stop.hive).exposures
        found.update({each.treatment for each in exposures if each.open})
    terms = notebook.book.terms()
    return [
        (treatment, terms[treatment].name if treatment in terms else treatment, hives)
        for treatment, hives in found.items()
    ]


def _known(identity: str, treatment: Treatment, *, used: bool) -> TreatmentChoice:
    cautions = treatment.values.get("cautions")
    return TreatmentChoice(
        identity,
        treatment.name,
        say("{country} {label}", country=treatment.country, label=treatment.label)
        if treatment.country
        else treatment.label,
        used,
        treatment.published,
        tuple(cautions.value) if cautions else (),
    )
