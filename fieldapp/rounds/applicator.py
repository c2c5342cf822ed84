"""An applicator measured by its keeper: what strokes give, and how far off it is cool enough."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from fieldapp.husbandry.amounts import number_of
from fieldapp.husbandry.applicators import Measured, PerStroke, per_stroke
from fieldapp.husbandry.errors import HusbandryError
from fieldapp.husbandry.ledger import Gear
from fieldapp.husbandry.mixing.batch import strength_of
from fieldapp.husbandry.mixing.strength import As, Strength
from fieldapp.husbandry.standoff import Heat, StandOff, spits, stand_off
from fieldapp.husbandry.vocabulary import INCHES
from fieldapp.journal.record import Draft
from fieldapp.rounds.bench_told import percent, rounded
from fieldapp.rounds.gear import gear_in_use
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.strokes import Gave, gave
from fieldapp.words import Degrees, Phrase, count, say

#: Where in a hive strokes go, by the word under which an application keeps them.
PLACES: dict[str, Phrase] = {"left": say("left"), "middle": say("middle"), "right": say("right")}
PACES: dict[str, Phrase] = {"slow": say("slow strokes"), "fast": say("fast strokes")}


def applicators(notebook: Notebook) -> list[Gear]:
    """Return the applicators in use, oldest first."""
    return gear_in_use(notebook, "applicator")


def add_applicator(notebook: Notebook, name: str) -> str:
    """Write an applicator down; return its id."""
    body = {"what": "applicator", "name": name or "Applicator"}
    draft = Draft("gear", notebook.moment(), notebook.keeper or "", body)
    return notebook.write([draft])[0].id


class Mix(NamedTuple):
    """A batch that may be in the applicator: its id, what it is called, its strength."""

    id: str
    name: Phrase
    strength: Strength


class Applicator:
    """One applicator with what was measured, and a measuring under way.

    What is tapped in stays on this phone until `save` writes it down.
    """

    def __init__(self, notebook: Notebook, gear: str) -> None:
        self._notebook = notebook
        self.id = gear
        self._name = f"applicator {gear}"
        self._kept: dict[str, Any] = dict(notebook.local.get(self._name) or {})

    @property
    def name(self) -> str:
        """What the keeper calls it."""
        found = (each.name for each in applicators(self._notebook) if each.id == self.id)
        return next(found, "")

    # -- a measuring under way

    @property
    def strokes(self) -> list[dict[str, Any]]:
        """Repeats tapped in and not yet written down."""
        return list(self._kept.get("strokes", []))

    @property
    def heat(self) -> list[dict[str, Any]]:
        """Temperatures tapped in and not yet written down."""
        return list(self._kept.get("heat", []))

    @property
    def unsaved(self) -> bool:
        """Whether something is tapped in that is not written down."""
        return bool(self.strokes or self.heat)

    def add_strokes(self, strokes: int, amount: float, unit: str) -> None:
        """Take so many strokes into a measure, and what came out."""
        body = {"strokes": strokes, "amount": amount, "unit": unit}
        self._put("strokes", [*self.strokes, body])

    def add_heat(self, pace: str, distance: float, celsius: float, *, spat: bool) -> None:
        """Take a temperature in degC, so many cm before the nozzle."""
        body = {
            "pace": pace,
            "distance": round(distance, 2),
            "temperature": round(celsius, 1),
            "spat": spat,
        }
        self._put("heat", [*self.heat, body])

    def forget(self) -> None:
        """Forget what is tapped in and not written down."""
        self._kept = {
            key: self._kept[key] for key in ("places", "limit", "mix") if key in self._kept
        }
        self._notebook.local.put(self._name, self._kept)

    def save(self) -> None:
        """Write down what is tapped in."""
        if not self.unsaved:
            return
        body: dict[str, Any] = {"gear": self.id}
        if self.strokes:
            body["strokes"] = self.strokes
        if self.heat:
            body["heat"] = self.heat
        notebook = self._notebook
        notebook.write([Draft("measured", notebook.moment(), notebook.keeper or "", body)])
        self.forget()

    # -- what strokes give

    @property
    def repeats(self) -> list[Measured]:
        """The repeats of the last measuring, with those tapped in."""
        last = self._last("strokes")
        return [Measured(**each) for each in (*last, *self.strokes)]

    @property
    def stroke(self) -> PerStroke | None:
        """What one stroke gives; None before a measuring, or where its units differ."""
        try:
            return per_stroke(self.repeats)
        except HusbandryError:
            return None

    def told_stroke(self) -> Phrase:
        """Return in words what one stroke gives."""
        if self.repeats and self.stroke is None:
            return say("The repeats are in different units: measure all in one.")
        if self.stroke is None:
            return say("Not measured: strokes into a measure first, and again.")
        low, high = (rounded(end) for end in self.stroke.range)
        if self.stroke.deviation is None:
            return say(
                "One stroke: about {mean} {unit}. The spread is not known: measure again.",
                mean=rounded(self.stroke.mean),
                unit=self.stroke.unit,
            )
        return say(
            "One stroke: {mean} {unit}, from {low} to {high} in {repeats}.",
            mean=rounded(self.stroke.mean),
            unit=self.stroke.unit,
            low=low,
            high=high,
            repeats=count("{n} repeat", "{n} repeats", self.stroke.repeats),
        )

    @property
    def places(self) -> dict[str, int]:
        """Strokes planned by place."""
        kept: Mapping[str, int] = self._kept.get("places", {})
        return {place: int(kept.get(place, 0)) for place in PLACES}

    def add_stroke(self, place: str, step: int) -> None:
        """Plan a stroke more or less at a place."""
        self._put("places", {**self.places, place: max(0, self.places[place] + step)})

    def mixes(self) -> list[Mix]:
        """Return the batches with a known strength, newest first: w/w for strokes in g."""
        chemistry = self._notebook.published.chemistry
        by: As = "w/w" if self.stroke is not None and self.stroke.unit == "g" else "w/v"
        lots = reversed(self._notebook.shelf.ledger().stock.lots)
        return [
            Mix(lot.id, lot.name, strength)
            for lot in lots
            if lot.mixed and (strength := strength_of(lot.record.body, by, chemistry)) is not None
        ]

    @property
    def mix(self) -> Mix | None:
        """The batch that is in it, by the keeper's word; None where nobody said."""
        return next((each for each in self.mixes() if each.id == self._kept.get("mix")), None)

    def turn_mix(self) -> None:
        """Go to the next batch; after the last, to none."""
        ids = [None, *(each.id for each in self.mixes())]
        at = ids.index(self.mix.id if self.mix is not None else None)
        self._put("mix", ids[(at + 1) % len(ids)])

    def gave(self) -> Gave | Phrase:
        """Return what the strokes planned give, or what has to be done first."""
        if self.stroke is None:
            return say("First: strokes into a measure.")
        if self.mix is None:
            return say("Say which batch is in it. A batch is mixed at the bench.")
        if not sum(self.places.values()):
            return say("Plan strokes by place: none so far.")
        return gave(self._notebook, self.places, self.stroke, self.mix.strength)

    # -- how far off

    @property
    def heats(self) -> list[Heat]:
        """The temperatures of the last measuring, with those tapped in."""
        return [Heat(**each) for each in (*self._last("heat"), *self.heat)]

    @property
    def limit(self) -> float | None:
        """The keeper's own limit in degC; None where none is set, and none is shipped."""
        return self._kept.get("limit")

    def take_limit(self, celsius: float) -> None:
        """Take the keeper's own limit."""
        self._put("limit", celsius)

    @property
    def stand_off(self) -> StandOff | None:
        """The distance beyond which fast strokes stay under the limit; None without a limit."""
        return None if self.limit is None else stand_off(self.heats, self.limit)

    def told_stand_off(self) -> Phrase | None:
        """Return the stand-off in words, in the keeper's units; None without a limit."""
        found = self.stand_off
        if found is None or self.limit is None:
            return None
        return say(
            "Under {limit}: {distance}",
            limit=Degrees(self.limit),
            distance=self._distance(found),
        )

    def told_spits(self) -> list[Phrase]:
        """Return where liquid spat."""
        return [
            say(
                "Liquid spat at {distance}, {pace}",
                distance=self.length(distance),
                pace=PACES[pace],
            )
            for pace, distance in spits(self.heats)
        ]

    def _distance(self, found: StandOff) -> Phrase:
        if found.distance is None or found.says == "none measured":
            return found.words
        if found.says == "further than":
            return say("further than {distance}", distance=self.length(found.distance))
        return say(
            "from {distance} on, the nearest that was measured",
            distance=self.length(found.distance),
        )

    @property
    def inches(self) -> bool:
        """Whether the keeper's country measures in inches."""
        return (self._notebook.country or "")[:2] == "US"

    def length(self, centimetres: float) -> Phrase:
        """Return a distance in the keeper's unit."""
        if self.inches:
            return number_of(round(centimetres / 2.54, 1), INCHES)
        return say("{n} cm", n=round(centimetres, 1))

    def _last(self, what: str) -> list[dict[str, Any]]:
        for each in applicators(self._notebook):
            if each.id == self.id:
                for record in reversed(each.measured):
                    if what in record.body:
                        return list(record.body[what])
        return []

    def _put(self, name: str, value: Any) -> None:
        self._kept[name] = value
        self._notebook.local.put(self._name, self._kept)


def told_mix(mix: Mix) -> Phrase:
    """Return a batch with its strength."""
    return say("{name}: {strength}", name=mix.name, strength=percent(mix.strength))
