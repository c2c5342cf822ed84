"""Before the count: whether it can answer the question.

What a wash of so many bees could tell at a threshold, how many bees it takes, and what a
number of hives can miss. Asked before the first bee is taken.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import LEVEL, poisson
from fieldapp.husbandry.chance.special import gamma_cdf
from fieldapp.husbandry.counting import CLUSTERED
from fieldapp.husbandry.errors import Unfitting
from fieldapp.words import Phrase, count, say

_MOST_BEES = 100_000


class Outlook(NamedTuple):
    """What a sample can tell at a threshold.

    Up to `below_up_to` mites show *below threshold* (None: not even none would); from
    `over_from` on they show *over*; anything between leaves it open.
    """

    bees: float
    per_100: float
    below_up_to: int | None
    over_from: int
    reasons: tuple[Reason, ...]

    def chance_of_answer(self, true_per_100: float) -> float:
        """Return how likely the sample answers at all, if the true load were `true_per_100`."""
        mean = true_per_100 / 100 * self.bees
        first_open = 0 if self.below_up_to is None else self.below_up_to + 1
        return 1 - sum(_poisson_chance(mean, k) for k in range(first_open, self.over_from))


def can_answer(bees: float, per_100: float) -> Outlook:
    """Return what a sample of `bees` bees can tell at `per_100` mites per 100 bees."""
    if bees < 1 or per_100 <= 0:
        raise Unfitting(say("A sample has at least one bee, and a threshold is above zero."))
    # An end of the exact interval lies beyond the limit exactly where the limit's own chance of
    # such a count is under the tail, so no interval has to be worked out.
    limit, tail = per_100 / 100 * bees, (1 - LEVEL) / 2
    below = None
    while gamma_cdf((0 if below is None else below + 1) + 1, limit) > 1 - tail:
        below = 0 if below is None else below + 1
    over = math.floor(limit) + 1
    while gamma_cdf(over, limit) >= tail:
        over += 1
    return Outlook(bees, per_100, below, over, (Reason(_in_words(below, over)), CLUSTERED))


def _in_words(below: int | None, over: int) -> Phrase:
    if below is None:
        return say(
            "even no mite at all would not show that the load is below: take more bees. "
            "From {over} mites on it is over.",
            over=over,
        )
    return count(
        "up to {n} mite shows that the load is below, from {over} on that it is over; "
        "between them the count cannot tell.",
        "up to {n} mites show that the load is below, from {over} on that it is over; "
        "between them the count cannot tell.",
        below,
        over=over,
    )


def bees_needed(per_100: float) -> int:
    """Return the fewest bees of which no mite at all would show a load below `per_100`."""
    if per_100 <= 0:
        raise Unfitting(say("A threshold is above zero."))
    return min(math.floor(poisson(0).high * 100 / per_100) + 1, _MOST_BEES)


def chance_of_none(per_100: float, bees: int) -> float:
    """Return how likely a sample shows no mite, each bee carrying one with chance per_100/100."""
    return (1 - per_100 / 100) ** bees


def chance_to_miss(hives: int, bad: int, sampled: int) -> float:
    """Return how likely none of `bad` bad hives of `hives` is among the `sampled` ones."""
    if not 0 <= bad <= hives or not 0 <= sampled <= hives:
        raise Unfitting(say("Bad hives and sampled hives are among the hives of the apiary."))
    return math.comb(hives - bad, sampled) / math.comb(hives, sampled)


def _poisson_chance(mean: float, k: int) -> float:
    if mean == 0:
        return 1.0 if k == 0 else 0.0
    return math.exp(k * math.log(mean) - mean - math.lgamma(k + 1))
