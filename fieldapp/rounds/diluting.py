"""Diluting an acid at the bench: what stands on its bottle, what is wanted, how much of each."""

from __future__ import annotations

from typing import Any, Final, Literal

from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.mixing.dilution import Dilution, acid_for
from fieldapp.husbandry.spoken import why
from fieldapp.rounds.bench_told import rounded
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

Asked = Literal["percent", "wanted", "makes", "density"]

#: What is asked, in order, with its unit. Only the density may be left open.
ASKED: Final[dict[Asked, tuple[Phrase, Phrase]]] = {
    "percent": (say("How strong is it, by its bottle?"), say("% w/w")),
    "wanted": (say("How strong is it to be?"), say("% w/w")),
    "makes": (say("How much is wanted?"), say("g")),
    "density": (say("Its density, by its bottle?"), say("g/mL")),
}
#: What a bottle can say at most: all of it acid; the densest acid that is sold is under 2 g/mL.
MOST: Final[dict[Asked, float]] = {"percent": 100, "wanted": 100, "makes": 20_000, "density": 2}
_KEPT = "dilution"


class Diluting:
    """One dilution being reckoned. What was tapped in stays on this phone."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self._state: dict[str, Any] = dict(notebook.local.get(_KEPT) or {})

    def value(self, name: Asked) -> float | None:
        """Return what was tapped in; None while nobody said."""
        return self._state.get(name)

    def take(self, name: Asked, value: float) -> None:
        """Take a number; zero says that it is not known."""
        self._state[name] = value or None
        self._notebook.local.put(_KEPT, self._state)

    def clear(self) -> None:
        """Forget what was tapped in."""
        self._state = {}
        self._notebook.local.put(_KEPT, None)

    def told(self) -> list[Told]:
        """Return water and acid in the order in which they go together, or what is missing."""
        percent, wanted, makes = (self.value(each) for each in ("percent", "wanted", "makes"))
        if percent is None or wanted is None or makes is None:
            return [Told("unknown", say("Say both strengths and how much: nothing is assumed."))]
        try:
            found = acid_for(makes, percent, wanted)
        except Unfitting as error:
            return [Told("late", error.phrase)]
        mind = tuple(why(found.reasons))
        return [
            Told("due", say("First the water: {grams} g", grams=rounded(found.water))),
            Told("due", say("Then into it the acid: {grams} g", grams=rounded(found.acid)), mind),
            self._by_volume(found),
        ]

    def _by_volume(self, found: Dilution) -> Told:
        density = self.value("density")
        if density is None:
            words = say("By volume: not known without the density on the bottle. Weigh it.")
            return Told("unknown", words)
        words = say(
            "By volume: about {water} mL of water, {acid} mL of acid. Weighing is better.",
            water=rounded(found.water / self._water),
            acid=rounded(found.acid / density),
        )
        return Told("quiet", words)

    @property
    def _water(self) -> float:
        """g/mL of water."""
        return self._notebook.published.chemistry.figure("volume", "water").low


#: What can hurt, said where acid is diluted.
CAUTIONS: Final = (
    say("Goggles, acid-proof gloves; outdoors or in a strong draught; water at hand."),
    say("Only where the label of the product has it diluted: the label decides how strong."),
)
