"""Did it work? The formulas of field trials, with intervals.

Abbott 1925 (J. Econ. Entomol. 18:265), Henderson and Tilton 1955 (J. Econ. Entomol. 48:157),
plain reduction, and the follow-up by an unrelated substance (COLOSS BEEBOOK, Varroa,
4.5.4.2.6.1). A share is from minus infinity to 1: a negative one means that the mites grew,
and is shown, not clipped. What a formula cannot say is None.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from fieldapp.husbandry.chance.intervals import (
    Interval,
    exact,
    odds_ratio,
    rate_ratio,
)
from fieldapp.husbandry.errors import Unfitting
from fieldapp.words import say


class Counted(NamedTuple):
    """Mites counted, and in how much: bees of a sample, or days times part of a board."""

    mites: int
    effort: float = 1.0

    @property
    def rate(self) -> float:
        """Mites a bee, or a day."""
        return self.mites / self.effort


class Efficacy(NamedTuple):
    """The share of mites that a treatment took away, 1 being all; None: not defined."""

    share: float | None
    interval: Interval


_NOTHING = Interval(-math.inf, 1.0)


def abbott(treated: Counted, untreated: Counted) -> Efficacy:
    """Return (C - T) / C: what lives in treated hives beside what lives in untreated ones."""
    _check(treated, untreated)
    return _from_ratio(
        treated.rate / untreated.rate if untreated.mites else None,
        rate_ratio(treated.mites, treated.effort, untreated.mites, untreated.effort),
    )


def reduction(before: Counted, after: Counted) -> Efficacy:
    """Return (before - after) / before in one hive, with no untreated one to set it off."""
    _check(before, after)
    return _from_ratio(
        after.rate / before.rate if before.mites else None,
        rate_ratio(after.mites, after.effort, before.mites, before.effort),
    )


def henderson_tilton(
    treated_before: Counted,
    treated_after: Counted,
    untreated_before: Counted,
    untreated_after: Counted,
) -> Efficacy:
    """Return 1 - (Ta x Cb) / (Tb x Ca); only where untreated hives were counted both times."""
    tb, ta, cb, ca = treated_before, treated_after, untreated_before, untreated_after
    _check(tb, ta, cb, ca)
    scale = (tb.effort / ta.effort) * (ca.effort / cb.effort)
    share = None
    if tb.mites and ca.mites:
        share = (ta.rate * cb.rate) / (tb.rate * ca.rate)
    interval = odds_ratio(ta.mites, tb.mites, ca.mites, cb.mites)
    return _from_ratio(share, interval.scaled(scale))


def follow_up(killed: int, killed_by_follow_up: int) -> Efficacy:
    """Return killed / (killed + killed by the follow-up), from dead mites on the board."""
    if killed < 0 or killed_by_follow_up < 0:
        raise Unfitting(say("Dead mites are not below zero."))
    both = killed + killed_by_follow_up
    if both == 0:
        return Efficacy(None, Interval(0.0, 1.0))
    return Efficacy(killed / both, exact(killed, both))


def _from_ratio(ratio: float | None, interval: Interval) -> Efficacy:
    share = None if ratio is None else 1 - ratio
    ends = Interval(1 - interval.high, 1 - interval.low)
    return Efficacy(share, ends if share is not None else _NOTHING)


def _check(*counts: Counted) -> None:
    if any(each.mites < 0 or each.effort <= 0 for each in counts):
        raise Unfitting(
            say("Mites are not below zero, and bees or days in which they were counted above it.")
        )
