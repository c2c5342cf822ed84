"""Formic acid from a dispenser, followed by weighing what evaporates.

Days are counted from the weighings, so how long a filling lasts is seen, not assumed. Amounts
are g of the acid as it was filled in, for all boxes of the hive together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any, Literal, NamedTuple

from fieldapp.husbandry.errors import Unfitting
from fieldapp.words import say


class Rate(NamedTuple):
    """What a label asks for: g a day and box from `least` to `most`, `total` g a box in all.

    In the first `lively_days` days up to `lively_factor` times `most` is allowed for.
    """

    least: float
    most: float
    total: float
    lively_days: float = 3
    lively_factor: float = 2


#: How terms begin the words for a dose that is one of each day.
_DAILY = "a day"


def rates(terms: Mapping[str, Any]) -> tuple[tuple[str, Rate], ...]:
    """Return what the terms (the body of a ``terms`` record) ask for, by their season's words.

    A daily dose by the box, and the whole treatment's; empty where either is missing.
    """
    entry = terms["values"].get("dose")
    doses = [] if entry is None else [each for each in entry["value"] if each["per"] == "box"]
    whole = [each["amount"] for each in doses if "amount" in each and not daily(each)]
    if len(whole) != 1:
        return ()
    return tuple(
        (each["when"].removeprefix(f"{_DAILY}, "), Rate(each["least"], each["most"], whole[0]))
        for each in doses
        if daily(each) and "least" in each and "most" in each
    )


def daily(dose: Mapping[str, Any]) -> bool:
    """Whether a dose is one of each day."""
    return str(dose.get("when", "")).startswith(_DAILY)


class Weighing(NamedTuple):
    """The filled dispenser weighed: `day` in days since it went in, `grams` with the acid."""

    day: float
    grams: float


class Stretch(NamedTuple):
    """Between two weighings: g a day, and whether that is too little, right or too much."""

    start: float
    end: float
    per_day: float
    says: Literal["too little", "right", "too much"]


class Evaporated(NamedTuple):
    """What went so far: g, each stretch, and what the label's total still wants.

    `days_left` is at the pace of the last stretch; None where nothing evaporates.
    """

    grams: float
    stretches: tuple[Stretch, ...]
    still: float
    days_left: float | None


def evaporated(weighings: Sequence[Weighing], rate: Rate, boxes: float) -> Evaporated:
    """Return what evaporated between the weighings of one hive of `boxes` boxes.

    Raises `Unfitting` for fewer than two weighings, days out of order or a dispenser that
    gained weight (a new filling begins a new row of weighings).
    """
    if boxes <= 0 or len(weighings) < 2:
        raise Unfitting(say("Weigh it when it goes in and once more at least."))
    stretches = []
    for one, two in pairwise(weighings):
        if two.day <= one.day or two.grams > one.grams:
            raise Unfitting(
                say("A later weighing is on a later day and not heavier: begin anew when filled.")
            )
        per_day = (one.grams - two.grams) / (two.day - one.day)
        most = rate.most * boxes
        if two.day <= rate.lively_days:
            most *= rate.lively_factor
        says: Literal["too little", "right", "too much"] = "right"
        if per_day < rate.least * boxes:
            says = "too little"
        elif per_day > most:
            says = "too much"
        stretches.append(Stretch(one.day, two.day, per_day, says))
    gone = weighings[0].grams - weighings[-1].grams
    still = max(rate.total * boxes - gone, 0.0)
    pace = stretches[-1].per_day
    return Evaporated(gone, tuple(stretches), still, still / pace if pace > 0 else None)


def lasts(rate: Rate) -> tuple[float, float]:
    """Return the fewest and the most days over which the label's total goes at its rates."""
    return rate.total / rate.most, rate.total / rate.least
