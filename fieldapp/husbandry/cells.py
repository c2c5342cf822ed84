"""The hole in the course: which mites leave a cell between two visits and are never met.

A mite that leaves a cell on day e after the start of a course stays on bees for p days at
least. It is met if some span [a, a + r], in which an application of day a still acts, touches
[e, e + p]: that is, if e lies in [a - p, a + r] for some a. What is not covered is the hole.
Reached is not killed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import say


class Span(NamedTuple):
    """From `low` to `high` in days after the start of the course, fractions meaning hours."""

    low: float
    high: float


class Reach(NamedTuple):
    """How much of what hatches from cells sealed at the start a course meets.

    `share` is from 0 to 1 of mites that leave their cells evenly over `sealed` days; `met` and
    `holes` part those days between them.
    """

    caste: str
    sealed: float
    share: float
    met: tuple[Span, ...]
    holes: tuple[Span, ...]


class Timeline(NamedTuple):
    """A course as it lies over the sealed brood of its first day, by caste, on real dates."""

    visits: tuple[date, ...]
    castes: tuple[Reach, ...]
    hatching: tuple[tuple[str, date, date], ...]
    reasons: tuple[Reason, ...]


def reach(
    caste: str, days: Sequence[float], residual: float, on_bees: float, sealed: float
) -> Reach:
    """Return what applications on `days` (day 0: the start) meet of `sealed` days of hatching.

    `residual` is the days over which an application acts, `on_bees` the fewest days that a
    mite stays on bees. Raises `Unfitting` for negative figures or a course without a day.
    """
    if not days or residual < 0 or on_bees < 0 or sealed <= 0:
        raise Unfitting(
            say("A course has at least one day, and none of its figures is below zero.")
        )
    met: list[Span] = []
    for day in sorted(days):
        low, high = max(day - on_bees, 0.0), min(day + residual, sealed)
        if low > high:
            continue
        if met and low <= met[-1].high:
            # Days come in order and act alike long, so a later one never ends earlier.
            met[-1] = Span(met[-1].low, high)
        else:
            met.append(Span(low, high))
    edges = [0.0, *(edge for span in met for edge in span), sealed]
    holes = [Span(a, b) for a, b in zip(edges[::2], edges[1::2], strict=True) if b > a]
    share = sum(span.high - span.low for span in met) / sealed
    return Reach(caste, sealed, share, tuple(met), tuple(holes))


def delayed(days: Sequence[float], visit: int, by: float = 2) -> tuple[float, ...]:
    """Return the course with visit number `visit` (0: the first) and all later ones put off.

    A first visit put off starts the course later and opens nothing; so it must be a later one.
    """
    if not 0 < visit < len(days):
        raise Unfitting(say("Only a visit after the first can open a hole by coming late."))
    return tuple(day if i < visit else day + by for i, day in enumerate(days))


def opened(before: Reach, after: Reach) -> tuple[Span, ...]:
    """Return the holes of `after` that `before` had not."""
    new: list[Span] = []
    for hole in after.holes:
        low = hole.low
        for old in before.holes:
            if old.high <= low or old.low >= hole.high:
                continue
            if old.low > low:
                new.append(Span(low, old.low))
            low = max(low, old.high)
        if low < hole.high:
            new.append(Span(low, hole.high))
    return tuple(new)


def dates(start: date, span: Span) -> tuple[date, date]:
    """Return the first and the last whole day that a span touches, in a course from `start`."""
    first = math.floor(span.low)
    last = max(math.ceil(span.high) - 1, first)
    return start + timedelta(days=first), start + timedelta(days=last)


def timeline(start: date, days: Sequence[int], residual: Figure, biology: Table) -> Timeline:
    """Return which cells, sealed on `start`, hatch unmet between visits on these `days` after it.

    The dates of `hatching` are the whole days that a hole touches.
    """
    on_bees = biology.figure("mites", "on_bees")
    sealed = [(caste, biology.figure("brood", f"sealed_{caste}")) for caste in ("worker", "drone")]
    castes = tuple(
        reach(caste, days, residual.low, on_bees.low, figure.low) for caste, figure in sealed
    )
    hatching = tuple((each.caste, *dates(start, hole)) for each in castes for hole in each.holes)
    reasons = (
        *_cautions(biology),
        residual.reason(say("an application goes on acting for {days} days", days=residual.low)),
        on_bees.reason(say("a mite stays on bees for at least {days} days", days=on_bees.low)),
        *(
            figure.reason(
                say("{caste} brood is sealed for {days} days", caste=word(caste), days=figure.low)
            )
            for caste, figure in sealed
        ),
    )
    return Timeline(tuple(start + timedelta(days=day) for day in days), castes, hatching, reasons)


def _cautions(biology: Table) -> tuple[Reason, ...]:
    trial, apart = biology.figure("trial", "applications"), biology.figure("trial", "apart")
    return (
        Reason(say("Reached is not killed: this counts mites that are met, not mites that die.")),
        trial.reason(
            say(
                "A trial with {n} applications {apart} days apart reached all on paper and failed "
                "to bring mites under the threshold.",
                n=int(trial.low),
                apart=int(apart.low),
            )
        ),
    )
