"""Strokes of an applicator as one hive gets them: planned, changed, logged."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from fieldapp.rounds.applicator import PLACES, Applicator, applicators
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, count, say

#: More strokes than this at one place are a finger that stayed on the key.
MOST = 99


class Strokes(NamedTuple):
    """Strokes by place in the hive, with one applicator (its root id)."""

    gear: str
    places: tuple[tuple[str, int], ...]

    @property
    def number(self) -> int:
        """Strokes in all."""
        return sum(n for _, n in self.places)

    @property
    def words(self) -> Phrase:
        """In words: *9 strokes: left 4, middle 3, right 2*."""
        each = [say("{place} {n}", place=_said(place), n=n) for place, n in self.places if n]
        if not each:
            return say("strokes not said")
        where = each[0]
        for more in each[1:]:
            where = say("{some}, {more}", some=where, more=more)
        return count("{n} stroke: {where}", "{n} strokes: {where}", self.number, where=where)

    @property
    def short(self) -> Phrase:
        """In short, in the order of the places: *9 strokes: 4, 3, 2*."""
        each = ", ".join(str(n) for _, n in self.places)
        if not self.number:
            return say("strokes not said")
        return count("{n} stroke: {each}", "{n} strokes: {each}", self.number, each=each)

    def add(self, place: str, step: int) -> Strokes:
        """Return strokes with some more or fewer at a place, never fewer than none."""
        changed = dict(self.places)
        changed[place] = min(max(0, changed.get(place, 0) + step), MOST)
        return self._replace(places=tuple(changed.items()))

    def body(self, notebook: Notebook) -> dict[str, Any]:
        """Return the fields of an ``application`` that say so.

        What came out is the measured mean of as many strokes; before a measuring it is left
        out: not known.
        """
        fields: dict[str, Any] = {"gear": self.gear}
        if not self.number:
            return fields
        fields["strokes"] = [{"place": place, "strokes": n} for place, n in self.places if n]
        stroke = Applicator(notebook, self.gear).stroke
        if stroke is not None:
            fields["dose"] = {
                "amount": round(self.number * stroke.mean, 2),
                "unit": stroke.unit,
                "of": "solution",
                "per": "hive",
            }
        return fields


def planned(notebook: Notebook) -> list[Strokes]:
    """Return the strokes planned for each applicator in use, oldest applicator first."""
    return [
        Strokes(gear.id, tuple(Applicator(notebook, gear.id).places.items()))
        for gear in applicators(notebook)
    ]


def strokes_of(body: Mapping[str, Any]) -> Strokes | None:
    """Return the strokes that an ``application`` body says; None: it names no applicator."""
    if "gear" not in body:
        return None
    said = dict.fromkeys(PLACES, 0)
    said |= {each["place"]: each["strokes"] for each in body.get("strokes", ())}
    return Strokes(body["gear"], tuple(said.items()))


def _said(place: str) -> Phrase | str:
    return PLACES.get(place, place)
