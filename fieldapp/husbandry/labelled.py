"""What labelled methods of a country give a strong colony, in g of oxalic acid dihydrate.

A dose of a solution is told in grams only where a published recipe makes that solution. A dose
of a product is counted as if all of it were dihydrate, and says so: more it cannot be.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.applicators import Labelled
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.mixing.contents import contents
from fieldapp.husbandry.mixing.recipe import Recipe
from fieldapp.husbandry.mixing.strength import acid_grams, strengths
from fieldapp.words import say

_WHOLE = frozenset({"colony", "hive"})
_BOX = frozenset({"box", "brood chamber"})


def labelled(
    bodies: Iterable[Mapping[str, Any]], recipes: Iterable[Recipe], chemistry: Table
) -> tuple[Labelled, ...]:
    """Return the largest labelled dose for one colony of each treatment with oxalic acid.

    `bodies` are bodies of ``terms`` records. A dose by seam counts at its cap, one by box for
    one box, and says so; a solution of unknown strength is left out.
    """
    of_treatment = {name: recipe for recipe in recipes for name in recipe.gives}
    found = []
    for body in bodies:
        if body["active"] != "oxalic acid" or "dose" not in body["values"]:
            continue
        grams = [
            amount
            for dose in body["values"]["dose"]["value"]
            if (amount := _grams(dose, of_treatment.get(body["treatment"]), chemistry))
        ]
        if grams:
            found.append(_labelled(body, max(grams)))
    return tuple(found)


def _grams(dose: Mapping[str, Any], recipe: Recipe | None, chemistry: Table) -> float | None:
    most = dose.get("most", dose.get("amount"))
    amount = dose.get("cap", most if dose["per"] in _WHOLE | _BOX else None)
    if amount is None:
        return None
    if dose["of"] in ("dihydrate", "product") and dose["unit"] == "g":
        return float(amount)
    if dose["of"] == "solution" and dose["unit"] == "mL" and recipe is not None:
        room = None if recipe.yield_ml is None else Interval(recipe.yield_ml, recipe.yield_ml)
        strength = strengths(contents(recipe.steps, chemistry), chemistry, room)[0]
        ends = acid_grams(amount, strength, chemistry)
        return (ends.low + ends.high) / 2
    return None


def _labelled(body: Mapping[str, Any], grams: float) -> Labelled:
    entry = body["values"]["dose"]
    source = body["sources"].get(entry["source"], {})
    cited = ", ".join(str(source[key]) for key in ("title", "issuer", "year") if key in source)
    words = say("{method} at its most for one colony", method=body["name"])
    if any(dose["per"] in _BOX for dose in entry["value"]):
        words = say("{method} at its most for one box", method=body["name"])
    if any(dose["of"] == "product" for dose in entry["value"]):
        words = say("{words}, all of it counted as dihydrate", words=words)
    return Labelled(words, round(grams, 2), Reason(words, (), cited, entry["standing"]))
