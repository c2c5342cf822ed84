"""Confidence intervals for counts: of a share, of a rate, of a ratio of two rates.

*Exact* ones never cover less than they say: Clopper and Pearson 1934 (Biometrika 26:404) for
a share, Garwood 1936 (Biometrika 28:437) for a rate, and the conditional one for a ratio. The
*score* interval is that of Wilson 1927 (J. Am. Stat. Assoc. 22:209), compared with others by
Newcombe 1998 (Stat. Med. 17:857).
"""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import NamedTuple

from fieldapp.husbandry.chance.special import (
    beta_quantile,
    gamma_quantile,
    gamma_tail,
    root,
)

LEVEL = 0.95


class Interval(NamedTuple):
    """From `low` to `high`, both included; ``math.inf`` or ``-math.inf`` where an end is open."""

    low: float
    high: float

    def scaled(self, factor: float) -> Interval:
        """Return the interval in another unit, `factor` above zero."""
        return Interval(self.low * factor, self.high * factor)

    @property
    def width(self) -> float:
        """The distance between the ends."""
        return self.high - self.low


def exact(hits: int, n: float, level: float = LEVEL) -> Interval:
    """Return the Clopper-Pearson interval for the share behind `hits` of `n`."""
    _check_share(hits, n)
    tail = (1 - level) / 2
    return Interval(
        beta_quantile(tail, hits, n - hits + 1) if hits > 0 else 0.0,
        beta_quantile(1 - tail, hits + 1, n - hits) if hits < n else 1.0,
    )


def score(hits: int, n: float, level: float = LEVEL) -> Interval:
    """Return Wilson's score interval for the share behind `hits` of `n`."""
    _check_share(hits, n)
    z = NormalDist().inv_cdf((1 + level) / 2)
    share = hits / n
    middle = share + z * z / (2 * n)
    half = z * math.sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    scale = 1 + z * z / n
    return Interval(
        (middle - half) / scale if hits > 0 else 0.0,
        (middle + half) / scale if hits < n else 1.0,
    )


def poisson(events: float, level: float = LEVEL) -> Interval:
    """Return the exact interval for the mean of a count that came out as `events`."""
    if events < 0:
        raise ValueError("a count is not below zero")
    tail = (1 - level) / 2
    return Interval(
        gamma_quantile(tail, events) if events > 0 else 0.0,
        gamma_quantile(1 - tail, events + 1),
    )


def rate_over(events: int, effort: float, rate: float) -> float:
    """Return about how likely the rate behind `events` in `effort` is above `rate`.

    From the posterior of a Poisson rate under the Jeffreys prior, Gamma(events + 1/2, effort).
    """
    if events < 0 or effort <= 0:
        raise ValueError("a count is not below zero, what was searched is above it")
    return gamma_tail(events + 0.5, max(rate, 0.0) * effort)


def rate_ratio(
    events: int, effort: float, events_0: int, effort_0: float, level: float = LEVEL
) -> Interval:
    """Return the exact interval for rate / rate_0 of two counts, given their sum.

    Given ``events + events_0``, `events` is binomial with odds ``rate * effort`` to
    ``rate_0 * effort_0``. Nothing counted at all says nothing: from 0 to infinity.
    """
    both = events + events_0
    if both == 0:
        return Interval(0.0, math.inf)
    share = exact(events, both, level)
    scale = effort_0 / effort
    return Interval(_odds(share.low) * scale, _odds(share.high) * scale)


def odds_ratio(a: int, b: int, c: int, d: int, level: float = LEVEL) -> Interval:
    """Return the exact conditional interval for (a/b) / (c/d) of four counts.

    Given a + b, c + d and a + c, `a` follows Fisher's noncentral hypergeometric distribution
    (Cornfield 1956); each end is the ratio under which a count as far out has half the
    remaining chance.
    """
    row, other, column = a + b, c + d, a + c
    least, most = max(0, column - other), min(row, column)
    tail = (1 - level) / 2
    logs = [_log_choose(row, k) + _log_choose(other, column - k) for k in range(least, most + 1)]

    def chance(log_ratio: float, first: int, last: int) -> float:
        terms = [log + log_ratio * (least + i) for i, log in enumerate(logs)]
        top = max(terms)
        weights = [math.exp(term - top) for term in terms]
        return sum(weights[first - least : last - least + 1]) / sum(weights)

    low, high = 0.0, math.inf
    if a > least:
        low = math.exp(root(lambda x: chance(x, a, most) - tail, -60.0, 60.0))
    if a < most:
        high = math.exp(root(lambda x: tail - chance(x, least, a), -60.0, 60.0))
    return Interval(low, high)


def _odds(share: float) -> float:
    return share / (1 - share) if share < 1 else math.inf


def _log_choose(n: int, k: int) -> float:
    return math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)


def _check_share(hits: int, n: float) -> None:
    if not 0 <= hits <= n or n == 0:
        raise ValueError("of n searched between none and all are hits, and n is above zero")
