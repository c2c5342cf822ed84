"""Several samples together: an apiary on one day, one hive over time.

A good mean never hides one bad hive: each hive's own load stays beside the mean, the highest
first, and `ApiaryLoad.over` names every hive that is not surely below the level asked about.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval, rate_ratio
from fieldapp.husbandry.chance.special import gamma_quantile
from fieldapp.husbandry.counting import Drop, Load
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.words import count, say


class ApiaryLoad(NamedTuple):
    """The load of an apiary from samples of several hives.

    `hives` has each hive with its load, the highest first; `mean` counts every bee once.
    `interval` allows for hives that differ; with one hive it cannot, and a reason says so.
    `enough` is whether as many hives were sampled as the published plan asks for.
    """

    mean: float
    interval: Interval
    hives: tuple[tuple[str, Load], ...]
    enough: bool
    reasons: tuple[Reason, ...]

    def over(self, per_100: float) -> tuple[str, ...]:
        """Return the hives whose load is not surely below `per_100`, the highest first."""
        return tuple(hive for hive, load in self.hives if load.interval.high >= per_100)


def hives_to_wash(hives: int, biology: Table) -> tuple[int, Figure]:
    """Return how many of `hives` to sample, and the figure it rests on: eight, or all of fewer."""
    plan = biology.figure("sampling", "hives")
    return min(hives, int(plan.low)), plan


def apiary_load(samples: Mapping[str, Load], hives: int, biology: Table) -> ApiaryLoad:
    """Return the load of an apiary of `hives` hives of which those in `samples` were sampled.

    The interval is the exact one for the pooled count, with the count taken for less where
    hives differ by more than chance (the quasi-Poisson model: Pearson's chi-square over its
    degrees of freedom, not under one).
    """
    if not samples:
        raise Unfitting(say("No hive of this apiary was counted: count some first."))
    if len({load.way for load in samples.values()}) > 1:
        raise Unfitting(say("Only counts made the same way can be put together."))
    mites = sum(load.mites for load in samples.values())
    bees = sum(load.bees for load in samples.values())
    spread = _spread(samples, mites / bees)
    events = mites / spread
    low = gamma_quantile(0.025, events) if events > 0 else 0.0
    interval = Interval(low, gamma_quantile(0.975, events + 1)).scaled(100 * spread / bees)
    wanted, plan = hives_to_wash(hives, biology)
    ranked = sorted(samples.items(), key=lambda item: (-item[1].per_100, item[0]))
    reasons = [
        plan.reason(
            count(
                "{n} hive of {hives} sampled, {wanted} wanted",
                "{n} hives of {hives} sampled, {wanted} wanted",
                len(samples),
                hives=hives,
                wanted=wanted,
            )
        )
    ]
    if len(samples) == 1:
        reasons.append(Reason(say("one hive does not tell how much the hives differ")))
    return ApiaryLoad(
        100 * mites / bees, interval, tuple(ranked), len(samples) >= wanted, tuple(reasons)
    )


def _spread(samples: Mapping[str, Load], rate: float) -> float:
    if len(samples) < 2 or rate == 0:
        return 1.0
    square = sum(
        (load.mites - rate * load.bees) ** 2 / (rate * load.bees) for load in samples.values()
    )
    return max(1.0, square / (len(samples) - 1))


class Trend(NamedTuple):
    """How a load or a drop changed from one count to a later one, as a ratio with its interval.

    `a_month` is the factor in 30 days; `says` is *cannot tell* where the interval holds 1.
    """

    ratio: float | None
    interval: Interval
    a_month: float | None
    says: Literal["rising", "falling", "cannot tell"]


def trend(first: Load | Drop, first_day: date, later: Load | Drop, later_day: date) -> Trend:
    """Return the trend between two counts made the same way.

    Raises `Unfitting` where the ways differ (a roll finds fewer mites than a wash) or the days
    are not in order.
    """
    (ways, mites_0, effort_0), (way, mites, effort) = _seen(first), _seen(later)
    if ways != way:
        raise Unfitting(say("Only counts made the same way can be compared."))
    days = (later_day - first_day).days
    if days <= 0:
        raise Unfitting(say("The later count must be made on a later day."))
    interval = rate_ratio(mites, effort, mites_0, effort_0)
    ratio = mites / effort / (mites_0 / effort_0) if mites_0 else None
    a_month = math.pow(ratio, 30 / days) if ratio is not None else None
    if interval.low > 1:
        return Trend(ratio, interval, a_month, "rising")
    return Trend(ratio, interval, a_month, "falling" if interval.high < 1 else "cannot tell")


def _seen(sample: Load | Drop) -> tuple[str, int, float]:
    if isinstance(sample, Load):
        return sample.way, sample.mites, sample.bees
    return "drop", sample.mites, sample.days * sample.part
