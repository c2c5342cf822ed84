"""The apiaries as a keeper looks for one: how many hives, and how far away."""

from __future__ import annotations

from typing import Any, NamedTuple

from fieldapp.device.position import Fix
from fieldapp.husbandry.distance import metres
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


#: What an apiary's record says of it beside that it was given up.
_ATTRIBUTES = ("name", "country", "zone", "lat", "lon", "registration")


def attributes(notebook: Notebook, apiary: str) -> dict[str, Any]:
    """Return what is known of an apiary, as the body of a record that says it again.

    The latest record holds in all it says, so one that changes a part of it repeats the rest.
    """
    place = notebook.book.place(apiary)
    if place is None:
        return {}
    known = {name: getattr(place, name) for name in _ATTRIBUTES}
    return {name: value for name, value in known.items() if value not in ("", None)}


def places(notebook: Notebook, fix: Fix | None) -> list[Place]:
    """Return the apiaries: nearest first where a position is known, else as the book has them."""
    sheet = notebook.sheet()
    found = [
        Place(
            each.id,
            each.name,
            each.country,
            sheet.walks[each.id],
            _far(fix, each.lat, each.lon),
        )
        for each in sheet.places
    ]
    return sorted(found, key=lambda place: (place.far is None, place.far or 0.0))


def _far(fix: Fix | None, lat: float | None, lon: float | None) -> float | None:
    if fix is None or lat is None or lon is None:
        return None
    return metres(fix.lat, fix.lon, lat, lon)
