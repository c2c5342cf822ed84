"""Recipes on this phone: those that are published, and the keeper's own, step by step."""

from __future__ import annotations

from typing import Any, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.mixing.measures import density
from fieldapp.husbandry.mixing.recipe import Recipe, Step, read_recipes, steps
from fieldapp.husbandry.vocabulary import word
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, say

_OWN = "own recipes"

#: What goes into a mix, by the word that recipes use for it.
PARTS: dict[str, Phrase] = {
    "water": say("water"),
    "oxalic acid dihydrate": say("oxalic acid dihydrate"),
    "oxalic acid anhydrous": say("oxalic acid anhydrous"),
    "sucrose": say("sucrose"),
    "syrup 1:1": say("syrup 1:1"),
    "glycerol": say("glycerol"),
}
#: In what it is measured.
UNITS: dict[str, Phrase | str] = {
    unit: word(unit) for unit in ("g", "mL", "US cup", "US tablespoon", "US teaspoon")
}


def units_for(notebook: Notebook, what: str, *, cups: bool = False) -> dict[str, Phrase | str]:
    """Return in what a part can be measured: only in g where no density is known.

    Where the keeper measures in `cups`, US measures come first.
    """
    chemistry = notebook.published.chemistry
    if what == "syrup 1:1":
        return {unit: UNITS[unit] for unit in ("g", "mL")}
    known = density(what, chemistry) is not None
    units = dict(sorted(UNITS.items(), key=lambda unit: not unit[0].startswith("US")))
    return (units if cups else UNITS) if known else {"g": UNITS["g"]}


class Choice(NamedTuple):
    """A recipe to choose: whose it is in short, and whether it is the keeper's own."""

    recipe: Recipe
    whose: Phrase
    own: bool


def choices(notebook: Notebook, country: str | None) -> list[Choice]:
    """Return the recipes: the keeper's own, then those of the country, then others by name."""
    own = [Choice(each, say("your own recipe"), True) for each in _own(notebook)]
    printed = [
        Choice(each, _whose(each), False) for each in read_recipes(notebook.published.recipes)
    ]
    here = (country or "")[:2]
    printed.sort(key=lambda each: (each.recipe.country != here, each.recipe.name))
    return own + printed


def _whose(recipe: Recipe) -> Phrase:
    return say("{country}, {standing}", country=recipe.country, standing=recipe.reason.standing)


def _own(notebook: Notebook) -> list[Recipe]:
    kept: list[dict[str, Any]] = notebook.local.get(_OWN) or []
    return [
        Recipe(
            each["name"],
            each["version"],
            steps(each["steps"]),
            Reason(say("your own recipe")),
        )
        for each in kept
    ]


class OwnRecipe:
    """A recipe of the keeper's own, put together step by step; `save` keeps it on this phone."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self.name = ""
        self.steps: list[Step] = []

    def add(self, what: str, amount: float, unit: str, *, off_heat: bool = False) -> None:
        """Put so much of something in; `off_heat`: with the pot off the heat."""
        self.steps.append(Step("add", what, amount, unit, off_heat=off_heat))

    def heat(self, celsius: float) -> None:
        """Heat to a temperature in degC."""
        self.steps.append(Step("heat", to=celsius))

    def cool(self) -> None:
        """Let it fall."""
        self.steps.append(Step("cool"))

    def stir(self) -> None:
        """Stir until clear."""
        self.steps.append(Step("stir"))

    def take_last_back(self) -> None:
        """Take the last step back."""
        self.steps = self.steps[:-1]

    @property
    def recipe(self) -> Recipe:
        """The steps so far as a recipe."""
        return Recipe(self.name, "", tuple(self.steps), Reason(say("your own recipe")))

    @property
    def on_heat(self) -> bool:
        """Whether the pot stands on the heat after the steps so far."""
        hot = False
        for step in self.steps:
            if step.do in ("heat", "reheat"):
                hot = True
            elif step.do == "cool" or step.off_heat:
                hot = False
        return hot

    @property
    def ready(self) -> bool:
        """Whether something is in it."""
        return any(step.what for step in self.steps)

    def save(self) -> str:
        """Keep it as a new version under its name; return its title."""
        kept: list[dict[str, Any]] = self._notebook.local.get(_OWN) or []
        name = self.name or "My mix"
        version = str(1 + sum(each["name"] == name for each in kept))
        body = {"name": name, "version": version, "steps": [step.body() for step in self.steps]}
        self._notebook.local.put(_OWN, [body, *kept])
        return f"{name} ({version})"
