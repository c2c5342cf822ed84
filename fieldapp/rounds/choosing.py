"""Choosing where and with what: apiaries nearest first, treatments of the country."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.device.position import Fix
from fieldapp.husbandry.distance import metres
from fieldapp.husbandry.library import Treatment
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, count, say


class Place(NamedTuple):
    """An apiary to choose. `far` is the distance in metres, None where not known."""

    id: str
    name: str
    country: str | None
    hives: int
    far: float | None

    @property
    def words(self) -> Phrase:
        """How many hives, and how far away where it is known."""
        hives = count("{n} hive", "{n} hives", self.hives)
        if self.far is None:
            return hives
        if self.far < 1000:
            return say("{hives}, {metres} m away", hives=hives, metres=round(self.far, -1))
        return say("{hives}, {km} km away", hives=hives, km=round(self.far / 1000, 1))


class TreatmentChoice(NamedTuple):
    """A treatment to choose, with what must be said of it at once."""

    identity: str
    name: str
    label: str
    used: bool
    published: bool
    cautions: tuple[str, ...]


def places(notebook: Notebook, fix: Fix | None) -> list[Place]:
    """Return the apiaries: nearest first where a position is known, else as the book has them."""
    found = [
        Place(
            each.id,
            each.name,
            each.country,
            len(notebook.book.walk(each.id, notebook.today())),
            _far(fix, each.lat, each.lon),
        )
        for each in notebook.book.apiaries(notebook.today())
    ]
    return sorted(found, key=lambda place: (place.far is None, place.far or 0.0))


def _far(fix: Fix | None, lat: float | None, lon: float | None) -> float | None:
    if fix is None or lat is None or lon is None:
        return None
    return metres(fix.lat, fix.lon, lat, lon)


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
            chosen.append(
                TreatmentChoice(identity, terms.name, terms.country, True, terms.published, ())
            )
    return sorted(chosen, key=lambda choice: (not choice.used, choice.name))


def _known(identity: str, treatment: Treatment, *, used: bool) -> TreatmentChoice:
    cautions = treatment.values.get("cautions")
    return TreatmentChoice(
        identity,
        treatment.name,
        f"{treatment.country or ''} {treatment.label}".strip(),
        used,
        treatment.published,
        tuple(cautions.value) if cautions else (),
    )
