"""How many mites: the load of a sample of bees, the fall on a board, an apiary, a trend.

A wash or roll counts mites, not infested bees, so the interval by which a load is judged is the
Poisson one, which holds however many mites sit on one bee; the two intervals for a share
stand beside it while a share is what they can be. Mites cluster, so all three are too narrow,
and each answer says so. The bees are a figure too: counted, weighed, or taken from a measure
on whose content authorities differ, and then every published reading gives a load.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import (
    Interval,
    exact,
    poisson,
    rate_over,
    score,
)
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import count, say

CLUSTERED = Reason(
    say("Mites cluster on few bees, so the true range is wider than the one shown."),
    standing="common practice",
)


class Load(NamedTuple):
    """Mites per 100 bees of one sample under one reading of how many bees it held.

    `share_exact` and `share_score` are None where there were more mites than bees. `grounds`
    says whether the number of bees is counted or published, so that the load may be the ground
    of *below threshold*.
    """

    way: str
    mites: int
    bees: float
    per_100: float
    interval: Interval
    share_exact: Interval | None
    share_score: Interval | None
    grounds: bool
    reasons: tuple[Reason, ...]

    def chance_over(self, per_100: float) -> float:
        """Return about how likely the true load is above `per_100` mites per 100 bees."""
        return rate_over(self.mites, self.bees, per_100 / 100)


class Drop(NamedTuple):
    """Mites a day on the board."""

    mites: int
    days: float
    part: float
    per_day: float
    interval: Interval
    grounds: bool
    reasons: tuple[Reason, ...]

    def chance_over(self, per_day: float) -> float:
        """Return about how likely the true fall is above `per_day` mites a day."""
        return rate_over(self.mites, self.days * self.part, per_day)


class ColonyTotal(NamedTuple):
    """What a published factor makes of a daily drop: mites in the whole colony, about."""

    mites: float
    reason: Reason


def load(way: str, mites: int, bees: float, *reasons: Reason, grounds: bool = True) -> Load:
    """Return the load of `mites` from `bees` bees. Raises `Unfitting` for what cannot be."""
    if mites < 0 or bees < 1:
        raise Unfitting(say("A sample has at least one bee, and its mites are not below zero."))
    per_100 = 100 / bees
    share = mites <= bees
    return Load(
        way,
        mites,
        bees,
        mites * per_100,
        poisson(mites).scaled(per_100),
        exact(mites, bees).scaled(100) if share else None,
        score(mites, bees).scaled(100) if share else None,
        grounds,
        (*reasons, CLUSTERED),
    )


def loads(body: Mapping[str, Any], biology: Table) -> tuple[Load, ...]:
    """Return the loads of a wash or roll (the body of a `count` record), one a reading.

    Empty where nothing says how many bees there were: the load is *not known*.
    """
    way, mites = body["way"], body["mites"]
    return tuple(
        load(way, mites, bees, reason, grounds=grounds)
        for bees, reason, grounds in _bees(body, biology)
    )


def _bees(body: Mapping[str, Any], biology: Table) -> list[tuple[float, Reason, bool]]:
    by, bees = body.get("bees_by"), body.get("bees")
    if by == "counted" and bees is not None:
        return [(bees, Reason(say("{bees} bees, counted", bees=bees)), True)]
    if by == "weighed" and body.get("grams"):
        some, weigh = biology.figure("bees", "weighed"), biology.figure("bees", "weighed_grams")
        number = max(round(body["grams"] / weigh.low * some.low), 1)
        words = say(
            "{g} g of bees, {n} bees weighing {each} g", g=body["grams"], n=some.low, each=weigh.low
        )
        return [(number, some.reason(words), some.grounds)]
    readings: list[tuple[float, Reason, bool]] = []
    for name, figure in measure_readings(biology):
        if by == "measured" and str(body.get("measure", "")).startswith(name):
            words = say("{measure} taken as {bees} bees", measure=word(name), bees=figure.low)
            readings.append((figure.low, figure.reason(words), figure.grounds))
    if bees is not None and bees not in [number for number, _, _ in readings]:
        own = say("taken by the keeper as {bees} bees", bees=bees)
        readings.append((bees, Reason(own, standing="common practice"), False))
    return readings


def measure_readings(biology: Table) -> list[tuple[str, Figure]]:
    """Return the measures for bees by name, with how many each is published to hold."""
    entries = biology.entries["bees"]["measures"]
    return [
        (entry["name"], biology.read_figure(entry["bees"], "bees.measures")) for entry in entries
    ]


def drop(mites: int, days: float, biology: Table, part: float = 1.0) -> Drop:
    """Return the daily fall from `mites` on `part` of a board that was in for `days`.

    Counting a part adds the error of a trial that counted a third of the cells; a smaller part
    was not tried and grounds nothing.
    """
    if mites < 0 or days <= 0 or not 0 < part <= 1:
        raise Unfitting(
            say("A board is in for more than no time, and the part counted is over 0 up to 1.")
        )
    effort = days * part
    interval = poisson(mites).scaled(1 / effort)
    if part == 1:
        return Drop(mites, days, part, mites / effort, interval, True, (CLUSTERED,))
    error, tried = biology.figure("board", "part_error"), biology.figure("board", "part")
    interval = Interval(interval.low * (1 - error.low / 100), interval.high * (1 + error.low / 100))
    enough = part >= tried.low
    words = (
        say("counted on a part of the board: {error} % more either way", error=error.low)
        if enough
        else say("so small a part of the board was never tried: count at least a third")
    )
    return Drop(
        mites, days, part, mites / effort, interval, enough, (error.reason(words), CLUSTERED)
    )


def fall(body: Mapping[str, Any], biology: Table) -> Drop | None:
    """Return the daily fall of a board (the body of a `count` record); None: days not known.

    Where the part that was counted is not recorded the whole is shown, and grounds nothing.
    """
    if body.get("days") is None:
        return None
    found = drop(body["mites"], body["days"], biology, body.get("board_part", 1.0))
    if "board_part" in body:
        return found
    unsure = Reason(say("how much of the board was counted is not known, shown as all of it"))
    return found._replace(grounds=False, reasons=(unsure, *found.reasons))


def colony_totals(fall: Drop, day: date, biology: Table) -> tuple[ColonyTotal, ...]:
    """Return what published factors make of a daily drop; they differ tenfold.

    A factor that names months is left out in others.
    """
    return tuple(
        ColonyTotal(
            fall.per_day * factor.low,
            factor.reason(
                say("daily drop x {factor} ({when})", factor=factor.low, when=word(entry["when"]))
            ),
        )
        for entry in biology.entries["board"]["totals"]
        if day.month in entry.get("months", range(1, 13))
        for factor in [biology.read_figure(entry["factor"], "board.totals")]
    )


def whole_colony(sample: Load, brood: str, biology: Table) -> ColonyTotal | None:
    """Return mites per 100 adults and pupae together, with brood; None without or not known."""
    if brood not in ("yes", "hardly any"):
        return None
    factor = biology.figure("brood", "adults_to_all")
    words = say("load on bees x {factor} while there is brood", factor=factor.low)
    return ColonyTotal(sample.per_100 * factor.low, factor.reason(words))


def worst(readings: Sequence[Load]) -> Load | None:
    """Return the reading with the highest load (the fewest bees); None of none."""
    return max(readings, key=lambda reading: reading.per_100, default=None)


def mites_in_words(sample: Load) -> Reason:
    """Return the load in one line, with its interval."""
    return Reason(
        count(
            "{n} mite in {bees} bees: {per_100} per 100, {low} to {high}",
            "{n} mites in {bees} bees: {per_100} per 100, {low} to {high}",
            sample.mites,
            bees=sample.bees,
            per_100=round(sample.per_100, 1),
            low=round(sample.interval.low, 1),
            high=round(sample.interval.high, 1),
        )
    )
