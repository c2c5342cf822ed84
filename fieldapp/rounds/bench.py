"""The bench: a recipe made for so many hives, followed step by step, and written down.

Everything tapped in is kept on this phone until the batch is written down or begun anew, so
that hands can be washed in between.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.mixing import heat
from fieldapp.husbandry.mixing.batch import Batch, batch_body, label
from fieldapp.husbandry.mixing.contents import Contents, contents
from fieldapp.husbandry.mixing.recipe import Recipe, made_for, wanted
from fieldapp.husbandry.mixing.strength import Strength, strengths
from fieldapp.journal.record import Draft
from fieldapp.rounds.bench_checks import UNANSWERED, after, written
from fieldapp.rounds.bench_lots import drawn, weighed_lots
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.recipes import Choice, choices
from fieldapp.words import Phrase, say

#: What a mix may be made for, by the word under which it is kept.
BASES: dict[str, Phrase] = {"hives": say("hives"), "seams": say("seams"), "boxes": say("boxes")}
#: Percent on top, for what is spilled and sticks.
MARGINS = (0, 10, 20)
#: Weeks for which the keeper may decide to keep a batch; none is published, none is proposed.
WEEKS = (0, 1, 2, 4, 12)
_KEPT = "bench"


class Bench:
    """One mix under way. `state` is what was tapped in."""

    def __init__(self, notebook: Notebook) -> None:
        self.notebook = notebook
        self.country = notebook.country
        self._state: dict[str, Any] = dict(notebook.local.get(_KEPT) or {})

    # -- which recipe, for how many

    def recipes(self) -> list[Choice]:
        """Return the recipes to choose from: the keeper's own, then the country's, then others."""
        return choices(self.notebook, self.country)

    @property
    def printed(self) -> Recipe | None:
        """The recipe chosen, as it is printed; None while none is."""
        title = self._state.get("recipe")
        return next((each.recipe for each in self.recipes() if each.recipe.title == title), None)

    def choose(self, title: str) -> None:
        """Begin to make a recipe, with nothing measured and nothing assumed."""
        self._state = {"recipe": title}
        self._keep()

    def clear(self) -> None:
        """Forget the mix under way."""
        self._state = {}
        self.notebook.local.put(_KEPT, None)

    @property
    def basis(self) -> str:
        """What the mix is made for: hives, seams or boxes."""
        return str(self._state.get("basis", "hives"))

    def turn_basis(self) -> None:
        """Go to the next of hives, seams, boxes."""
        words = list(BASES)
        self._put("basis", words[(words.index(self.basis) + 1) % len(words)])

    @property
    def number(self) -> int | None:
        """How many hives, seams or boxes; None while nobody said."""
        return self._state.get("number")

    def take_number(self, number: int) -> None:
        """Take how many hives, seams or boxes it is for."""
        self._put("number", number or None)

    @property
    def each(self) -> float | None:
        """The mL for one of them; None while nobody said."""
        return self._state.get("each")

    def take_each(self, millilitres: float) -> None:
        """Take the mL for one hive, seam or box."""
        self._put("each", millilitres or None)

    @property
    def margin(self) -> int:
        """Percent on top."""
        return int(self._state.get("margin", 10))

    def turn_margin(self) -> None:
        """Go to the next margin."""
        self._put("margin", MARGINS[(MARGINS.index(self.margin) + 1) % len(MARGINS)])

    @property
    def scales(self) -> bool:
        """Whether there are scales; without them kitchen measures are shown with their range."""
        return not self._state.get("no scales", False)

    def turn_scales(self) -> None:
        """Go from scales to none and back."""
        self._put("no scales", self.scales)

    @property
    def need(self) -> float | None:
        """The mL to make, margin and all; None while number or dose is not known."""
        if self.number is None or self.each is None:
            return None
        return wanted(self.number, self.each, self.margin)

    @property
    def recipe(self) -> Recipe | None:
        """The recipe as it is made: scaled where it is known for how much, and as measured."""
        printed = self.printed
        if printed is None:
            return None
        need = self.need
        if need is not None:
            printed = made_for(printed, self._yields(printed), need)
        measured: dict[str, float] = self._state.get("measured", {})
        steps = tuple(
            replace(printed.steps[n], measured=measured.get(str(n), printed.steps[n].measured))
            for n in self._followed(printed)
        )
        return replace(printed, steps=steps)

    def _followed(self, printed: Recipe) -> list[int]:
        """Return the numbers, as printed, of the steps that are followed."""
        left_out = self._state.get("left out", [])
        return [n for n in range(len(printed.steps)) if n not in left_out]

    def _yields(self, recipe: Recipe) -> float:
        if recipe.yield_ml is not None:
            return recipe.yield_ml
        return _middle(self.mix_of(recipe).volume(self.notebook.published.chemistry))

    def mix_of(self, recipe: Recipe) -> Contents:
        """Return what a recipe adds together."""
        return contents(recipe.steps, self.notebook.published.chemistry)

    # -- step by step

    @property
    def at(self) -> int:
        """The step at which the keeper stands, from 0."""
        return int(self._state.get("at", 0))

    def go(self, step: int) -> None:
        """Stand at a step."""
        self._put("at", step)

    def measure(self, step: int, celsius: float) -> None:
        """Take a temperature read in a step, in degC."""
        if (printed := self.printed) is not None:
            name = str(self._followed(printed)[step])
            measured = {**self._state.get("measured", {}), name: round(celsius, 1)}
            self._put("measured", measured)

    def leave_out(self, step: int) -> None:
        """Leave a step out, as after a stop; it is not written down as done."""
        if (printed := self.printed) is not None:
            followed = self._followed(printed)
            self._put("left out", [*self._state.get("left out", []), followed[step]])

    def answer(self, check: str) -> str:
        """Return the answer to a check of the bench, `UNANSWERED` where nobody said."""
        return str(self._state.get("checks", {}).get(check, UNANSWERED))

    def turn_check(self, check: str) -> None:
        """Go to the next answer of a check."""
        answers = {**self._state.get("checks", {}), check: after(self.answer(check))}
        self._put("checks", answers)

    def findings(self, recipe: Recipe) -> tuple[heat.Finding, ...]:
        """Return the stops and cautions of a recipe, step by step."""
        return heat.findings(recipe.steps, self.notebook.published.chemistry)

    # -- the batch

    @property
    def strength(self) -> Strength | None:
        """The strength of the mix, % w/v as dihydrate; None where no acid is in it."""
        recipe = self.recipe
        if recipe is None:
            return None
        mix = self.mix_of(recipe)
        if mix.dihydrate.high <= 0:
            return None
        chemistry = self.notebook.published.chemistry
        volume = recipe.yield_ml
        room = Interval(volume, volume) if volume is not None else None
        return strengths(mix, chemistry, room)[0]

    def lots(self) -> list[Lot]:
        """Return the bought lots that may have gone in: kept by mass, something left."""
        return weighed_lots(self.notebook)

    def _chosen(self) -> list[Lot]:
        return [lot for lot in self.lots() if lot.id in self.chosen_lots]

    @property
    def chosen_lots(self) -> tuple[str, ...]:
        """The root ids of the lots that the keeper said went in."""
        return tuple(self._state.get("lots", ()))

    def turn_lot(self, lot: str) -> None:
        """Say that a lot went in, or that it did not."""
        chosen = [each for each in self.chosen_lots if each != lot]
        self._put("lots", chosen if lot in self.chosen_lots else [*chosen, lot])

    @property
    def weeks(self) -> int:
        """For how many weeks the keeper decides to keep the batch; 0: not decided."""
        return int(self._state.get("weeks", 0))

    def turn_weeks(self) -> None:
        """Go to the next number of weeks."""
        self._put("weeks", WEEKS[(WEEKS.index(self.weeks) + 1) % len(WEEKS)])

    @property
    def keep_until(self) -> date | None:
        """The last day on which the batch may be used, None where the keeper set none."""
        return self.notebook.today() + timedelta(weeks=self.weeks) if self.weeks else None

    def batch(self) -> Batch | None:
        """Return the batch as it would be written down; None without a recipe."""
        recipe = self.recipe
        if recipe is None:
            return None
        return Batch(
            recipe,
            round(self.need or self._yields(recipe), 1),
            "mL",
            self.strength,
            self.notebook.today(),
            self.notebook.shelf.keepers().get(self.notebook.keeper or "", ""),
            tuple(lot.number for lot in self._chosen() if lot.number),
            self.keep_until,
        )

    def label(self, batch: Batch) -> tuple[Phrase, ...]:
        """Return the lines for the bottle."""
        return label(batch, self.notebook.published.chemistry)

    def save(self) -> Sequence[Phrase]:
        """Write the batch down, and return the lines for its bottle."""
        batch = self.batch()
        if batch is None:
            return ()
        self.notebook.write(
            [
                Draft(
                    "batch",
                    self.notebook.moment(),
                    self.notebook.keeper or "",
                    {
                        **batch_body(
                            batch,
                            drawn(self._chosen(), batch.recipe, self.notebook.published.chemistry),
                            self._gives(batch.recipe),
                        ),
                        "words": written(self.answer),
                    },
                )
            ]
        )
        lines = self.label(batch)
        self.clear()
        return lines

    def _gives(self, recipe: Recipe) -> str | None:
        """Return the treatment of the keeper's country whose solution a recipe makes."""
        here = (each for each in recipe.gives if each.split("/")[0] == self.country)
        return next(here, None)

    def _put(self, name: str, value: Any) -> None:
        self._state[name] = value
        self._keep()

    def _keep(self) -> None:
        self.notebook.local.put(_KEPT, self._state)


def _middle(ends: Interval) -> float:
    return (ends.low + ends.high) / 2
