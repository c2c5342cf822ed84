"""What a record takes from the stock: which lot, how much, or that nobody said how much."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.ledger.facts import Fact, Facts

#: What a dose may be said to be per, where its amount is all that the hive got.
_WHOLE = frozenset({"colony", "hive"})
#: What a dose may be of, where it was taken from the stock as it is.
_AS_IT_IS = frozenset({"product", "solution", "piece"})


class Drawing(NamedTuple):
    """An amount taken from a lot; `amount` None where nobody said how much.

    `by` is the kind of the record: ``application``, ``batch`` or ``disposed``; `hive` the hive
    that got it. `of` is what the amount is said of where that is not what the lot holds.
    """

    key: Key
    lot: str
    amount: float | None
    unit: str
    by: str
    hive: str = ""
    treatment: str = ""
    of: str = ""

    @property
    def record(self) -> str:
        """The root's id."""
        return self.key[3]


def drawings(facts: Facts) -> list[Drawing]:
    """Return everything that was taken from the stock, in order."""
    found: list[Drawing] = []
    for fact in facts.kind("batch"):
        found += _drawn(fact)
    for fact in facts.kind("disposed"):
        body = fact.record.body
        found.append(Drawing(fact.key, body["lot"], body["amount"], body["unit"], "disposed"))
    for fact in facts.kind("application"):
        found += _by_application(fact, facts)
    return sorted(found, key=lambda drawing: drawing.key)


def _drawn(fact: Fact, hive: str = "") -> Iterable[Drawing]:
    body = fact.record.body
    for each in body.get("drawn", ()):
        yield Drawing(
            fact.key,
            each["lot"],
            each["amount"],
            each["unit"],
            fact.record.kind,
            hive,
            body.get("treatment", ""),
        )


def _by_application(fact: Fact, facts: Facts) -> Iterable[Drawing]:
    """Return what an application took: as it says, and of its batch what it gave."""
    body = fact.record.body
    hive = facts.same.of("hive", fact.record.hive or "")
    named = list(_drawn(fact, hive))
    yield from named
    batch = body.get("batch")
    if batch and all(drawing.lot != batch for drawing in named):
        amount, unit, of = _given(body)
        yield Drawing(
            fact.key, batch, amount, unit, "application", hive, body.get("treatment", ""), of
        )


def _given(body: Mapping[str, Any]) -> tuple[float | None, str, str]:
    """Return how much of its batch an application gave: amount, unit, what it is said of."""
    dose = body.get("dose")
    if dose is None:
        return None, "", ""
    unit, of = dose["unit"], dose["of"]
    if of not in _AS_IT_IS:
        return None, unit, of
    amount, per = dose["amount"], dose.get("per")
    if per in _WHOLE:
        return amount, unit, ""
    if per == "seam" and "seams" in body:
        return amount * body["seams"], unit, ""
    return None, unit, ""
