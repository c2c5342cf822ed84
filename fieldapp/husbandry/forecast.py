"""Looking ahead: exponential growth as a band, the day to count again, plans for a season.

A forecast is a band with its assumptions, never a fact, and grounds no *suits* or *below
threshold*. It assumes brood all the time and no mites carried in from elsewhere, which makes it
too low wherever colonies nearby collapse.
"""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.words import Phrase, count, say

_FAR = 3660


class Band(NamedTuple):
    """From the load's interval on `start` by the slowest and the fastest known rate.

    `rates` are per day, `start_load` and `at` in mites per 100 bees (or whatever the count
    was in).
    """

    start: date
    start_load: Interval
    rates: Interval
    reasons: tuple[Reason, ...]

    def at(self, day: date) -> Interval:
        """Return the band on `day`, not before its start."""
        days = (day - self.start).days
        if days < 0:
            raise Unfitting(say("A forecast looks ahead, not back."))
        return Interval(
            self.start_load.low * math.exp(self.rates.low * days),
            self.start_load.high * math.exp(self.rates.high * days),
        )

    def count_again_by(self, threshold: float) -> date:
        """Return the last day on which the whole band is still under `threshold`.

        That is the start itself where the band reaches it within a day or has already.
        """
        if threshold <= 0 or self.start_load.high <= 0:
            raise Unfitting(say("A threshold is above zero, and so is what a load can be."))
        if self.start_load.high >= threshold:
            return self.start
        days = math.log(threshold / self.start_load.high) / self.rates.high
        return self.start + timedelta(days=min(max(math.ceil(days) - 1, 0), _FAR))


class SeasonPlan(NamedTuple):
    """How many knockdowns a year a practitioner's model wants, from `least` to `most`."""

    least: int
    most: int
    reason: Reason


def band(load: Interval, start: date, brood: str, biology: Table) -> Band | None:
    """Return the forecast from a load's interval; None where there is no brood to grow in.

    Brood that is *hardly any* or *not known* is taken as brood: the cautious side.
    """
    if brood == "none":
        return None
    figures = [biology.figure("growth", name) for name in biology.entries["growth"]]
    rates = Interval(min(f.low for f in figures), max(f.high for f in figures))
    reasons = (
        Reason(say("a forecast, not a fact: it assumes brood and no mites from outside")),
        biology.note(
            say("from November on one model was far too low: mites came in with foragers"),
            "notes",
            "mites_from_outside",
        ),
        *(f.reason(say("growth of {rate} a day", rate=f.low)) for f in figures),
    )
    return Band(start, load, rates, reasons)


def doubling_days(rate: float) -> float:
    """Return the days in which a load doubles at `rate` a day."""
    return math.log(2) / _growing(rate)


def refill_days(killed: float, rate: float) -> float:
    """Return the days in which growth at `rate` a day undoes a kill of the share `killed`."""
    if not 0 <= killed < 1:
        raise Unfitting(say("A kill is a share from 0 to less than all."))
    return -math.log(1 - killed) / _growing(rate)


def _growing(rate: float) -> float:
    if rate <= 0:
        raise Unfitting(say("A rate of growth is above zero."))
    return rate


def season_plan(brood_months: float, biology: Table) -> SeasonPlan:
    """Return the knockdowns wanted in a year with so many months of brood.

    Between the published points both neighbours are given.
    """
    if not 0 <= brood_months <= 12:
        raise Unfitting(say("A year has from 0 to 12 months with brood."))
    one, two, three = (biology.figure("season", name) for name in ("one", "two", "three"))
    kill = biology.figure("season", "knockdown")
    if brood_months <= one.low:
        least, most = 1, 1
    elif brood_months <= two.low:
        least, most = (2, 2) if brood_months == two.low else (1, 2)
    elif brood_months <= three.low:
        least, most = 2, 3
    else:
        least, most = 3, 3
    return SeasonPlan(least, most, one.reason(_plan_in_words(least, most, kill)))


def _plan_in_words(least: int, most: int, kill: Figure) -> Phrase:
    if least == most:
        return count(
            "{n} knockdown of at least {kill} % a year",
            "{n} knockdowns of at least {kill} % a year",
            least,
            kill=kill.low,
        )
    return say(
        "{least} to {most} knockdowns of at least {kill} % a year",
        least=least,
        most=most,
        kill=kill.low,
    )
