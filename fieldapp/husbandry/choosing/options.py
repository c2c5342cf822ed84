"""Each treatment as *suits*, *does not suit* or *not known*, with every reason.

One reason against decides; after it one thing not known; *suits* is left where every aspect
that the label names, and brood, supers and temperature in any case, suits on figures that were
read, computed or stand on the label in hand. Treatments come out in the order they came in: a
table to read, not a questionnaire that ends in a product.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, NamedTuple

from fieldapp.husbandry.choosing import colony, history, surroundings, weather
from fieldapp.husbandry.choosing.label import Finding, Label, Says
from fieldapp.husbandry.choosing.situation import Situation


class Option(NamedTuple):
    """One treatment for one hive on one day, with what every aspect says."""

    treatment: str
    name: str
    method: str
    says: Says
    findings: tuple[Finding, ...]

    def why(self) -> tuple[Finding, ...]:
        """Return the findings that made the verdict, and the remarks."""
        return tuple(each for each in self.findings if each.says in (self.says, "remark"))


def options(terms: Iterable[Mapping[str, Any]], hive: Situation, day: date) -> tuple[Option, ...]:
    """Return what each treatment (the body of its `terms` record) means for `hive` on `day`."""
    return tuple(_option(Label(body), hive, day) for body in terms)


def table(
    terms: Iterable[Mapping[str, Any]], hives: Mapping[str, Situation], day: date
) -> dict[str, tuple[Option, ...]]:
    """Return hives by methods: for each hive its options, in one order for all of them."""
    bodies = tuple(terms)
    return {hive: options(bodies, situation, day) for hive, situation in hives.items()}


def _option(label: Label, hive: Situation, day: date) -> Option:
    findings = (
        *surroundings.published(label),
        *colony.brood(label, hive),
        *colony.queen(label, hive),
        *colony.supers(label, hive),
        *weather.temperature(label, hive, day),
        *colony.size(label, hive),
        *colony.season(label, hive),
        *history.rest(label, hive, day),
        *history.limit(label, hive, day),
        *history.rotation(label, hive),
        *surroundings.others(label, hive),
        *surroundings.standstill(label, hive),
        *surroundings.prescription(label, hive),
        *surroundings.stock(label, hive),
        *surroundings.honey(label),
    )
    said = {each.says for each in findings}
    says: Says = "suits"
    if "does not suit" in said:
        says = "does not suit"
    elif "not known" in said:
        says = "not known"
    return Option(label.treatment, label.name, label.method, says, findings)
