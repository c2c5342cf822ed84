"""A recipe as steps, and the same recipe for more or fewer hives.

A step has the form that the `batch` record keeps (fieldapp.journal.kinds.ledger), so what is
planned at the bench and what is written down are one thing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Table
from fieldapp.words import say


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what is done, with how much of what.

    `to` is the degC to which the step heats or cools, `measured` a temperature read in it;
    `off_heat` says that something was added with the pot off the heat. None is *not known*.
    """

    do: str
    what: str = ""
    amount: float | None = None
    unit: str = ""
    to: float | None = None
    measured: float | None = None
    off_heat: bool = False

    def body(self) -> dict[str, Any]:
        """Return the step as a `batch` record carries it."""
        fields = {name: getattr(self, name) for name in self.__dataclass_fields__}
        return {
            name: value
            for name, value in fields.items()
            if value not in (None, "") and value is not False
        }


@dataclass(frozen=True, slots=True)
class Recipe:
    """Steps in their order, with where they stand.

    `printed` is a percentage that the source or the keeper's paper prints for the mix, and
    `yield_ml` the volume that it is published to give; None: none is. `gives` names the
    treatments whose solution it makes.
    """

    name: str
    version: str
    steps: tuple[Step, ...]
    reason: Reason
    country: str = ""
    printed: float | None = None
    yield_ml: float | None = None
    gives: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Name and version, as a batch record names its recipe."""
        return f"{self.name} ({self.version})"


def read_recipes(table: Table) -> tuple[Recipe, ...]:
    """Return the published recipes of `table`. Raises `Damaged` where one is not whole."""
    return tuple(_read(table, entry) for entry in table.entries["recipe"])


def _read(table: Table, entry: Mapping[str, Any]) -> Recipe:
    where = table.need(entry, "id", "recipe", str)
    source = table.sources.get(table.need(entry, "source", where, str))
    if source is None:
        raise table.damaged(where)
    name = table.need(entry, "name", where, str)
    return Recipe(
        name,
        table.need(entry, "version", where, str),
        steps(table.need(entry, "steps", where, list)),
        Reason(
            say("recipe: {name}", name=name),
            source=source.cite(),
            standing=table.need(entry, "standing", where, str),
        ),
        entry.get("country", ""),
        entry.get("printed"),
        entry.get("yield_ml"),
        tuple(entry.get("gives", ())),
    )


def steps(bodies: list[dict[str, Any]]) -> tuple[Step, ...]:
    """Return the steps that the bodies of a `batch` record's steps describe."""
    return tuple(Step(**body) for body in bodies)


def scaled(recipe: Recipe, factor: float) -> Recipe:
    """Return the recipe with every amount times `factor`; temperatures and order stay."""
    if not 0 < factor < float("inf"):
        raise Unfitting(say("A recipe is made larger or smaller by a factor above zero."))
    return replace(
        recipe,
        steps=tuple(
            step if step.amount is None else replace(step, amount=step.amount * factor)
            for step in recipe.steps
        ),
        yield_ml=None if recipe.yield_ml is None else recipe.yield_ml * factor,
    )


def wanted(number: float, each: float, margin_percent: float = 10) -> float:
    """Return how much to make: `each` for `number` of hives, seams or boxes, and a margin.

    In the unit of `each`. What is spilled and sticks to the vessel is in the margin.
    """
    if number <= 0 or each <= 0 or margin_percent < 0:
        raise Unfitting(
            say("Hives, seams or boxes and the dose for each are above zero, a margin not below.")
        )
    return number * each * (1 + margin_percent / 100)


def made_for(recipe: Recipe, yields: float, need: float) -> Recipe:
    """Return the recipe that gives `need`, where as it stands it gives `yields` (same unit)."""
    if yields <= 0:
        raise Unfitting(say("How much the recipe gives is not known: enter it."))
    return scaled(recipe, need / yields)
