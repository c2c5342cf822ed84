"""Published recipes by name, and recipes made up for a case."""

from __future__ import annotations

from computing_cases import CHEMISTRY, TABLES

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.mixing.contents import contents
from fieldapp.husbandry.mixing.recipe import (
    Recipe,
    Step,
    read_recipes,
)
from fieldapp.husbandry.mixing.strength import (
    strengths,
)
from fieldapp.words import say

BY_NAME = {each.name: each for each in read_recipes(TABLES.recipes)}


GERMAN = BY_NAME["3.5 % m/V trickle, 500 mL"]


BRITISH = BY_NAME["3.2 % trickle"]


ITALIAN = BY_NAME["4.2 % trickle"]


POWDER = BY_NAME["4.2 % trickle from powder 886 mg/g"]


def percents(recipe: Recipe) -> dict[tuple[str, str], float]:
    mix = contents(recipe.steps, CHEMISTRY)
    return {(each.of, each.by): each.percent.low for each in strengths(mix, CHEMISTRY)}


def made(*steps: Step) -> Recipe:
    return Recipe("made up", "1", steps, Reason(say("made up")))
