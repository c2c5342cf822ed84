"""What a count may mean beyond its sample: the whole colony by factors, and the days ahead."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from fieldapp.husbandry.counting import Drop, Load, colony_totals, whole_colony
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.forecast import Band, band, doubling_days
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.thresholds import Threshold
from fieldapp.rounds.told import Told
from fieldapp.words import say

#: Days for which the forecast is told.
AHEAD = 30


def value_of(reading: Load | Drop) -> float:
    """Return mites per 100 bees, or a day."""
    return reading.per_100 if isinstance(reading, Load) else reading.per_day


def told_whole(
    readings: Sequence[Load] | Sequence[Drop], day: date, brood: str, biology: Table
) -> list[Told]:
    """Return what published factors make of a count for the whole colony, as they stand."""
    if not readings:
        return []
    highest = max(readings, key=value_of)
    if isinstance(highest, Drop):
        if not highest.mites:  # no mite seen is not no mite: the range tells how many there may be
            most = highest._replace(per_day=highest.interval.high)
            totals = colony_totals(most, day, biology)
            high = round(max(each.mites for each in totals))
            words = say("Mites in the colony: up to {high}, by factors", high=high)
        else:
            totals = colony_totals(highest, day, biology)
            low, high = (round(end(each.mites for each in totals)) for end in (min, max))
            words = say("Mites in the colony: {low} to {high}, by factors", low=low, high=high)
        return [Told("quiet", words, tuple(why([each.reason for each in totals])))]
    found = whole_colony(highest, brood, biology)
    if found is None:
        return []
    words = say("On bees and brood together {n} per 100", n=round(found.mites, 1))
    return [Told("quiet", words, tuple(why([found.reason])))]


def told_ahead(
    readings: Sequence[Load] | Sequence[Drop],
    day: date,
    brood: str,
    levels: Sequence[Threshold],
    biology: Table,
) -> list[Told]:
    """Return by when to count again, and the band of what a load may come to.

    `levels` are those to act at, the lowest first; a board has no forecast.
    """
    samples = [each for each in readings if isinstance(each, Load)]
    if not samples:
        return []
    highest = max(samples, key=lambda each: each.interval.high)
    found = band(highest.interval, day, brood, biology)
    if found is None:
        words = say("How fast the load grows is not known: mites multiply in brood, and none is in")
        return [Told("unknown", words)]
    told = []
    if levels and (by := found.count_again_by(levels[0].figure.low)) > day:
        told.append(Told("due", say("Count again by {day}", day=by), tuple(why(found.reasons))))
    then = day + timedelta(days=AHEAD)
    low, high = (round(end, 1) for end in found.at(then))
    words = say("By {day} about {low} to {high} per 100", day=then, low=low, high=high)
    return [*told, Told("quiet", words, tuple(why(found.reasons))), _doubles(found)]


def _doubles(found: Band) -> Told:
    """Return in how many days a load doubles by the fastest and the slowest known rate."""
    few, many = (round(doubling_days(rate)) for rate in reversed(found.rates))
    words = say("At the known rates it doubles in {few} to {many} days", few=few, many=many)
    return Told("quiet", words, tuple(why(found.reasons)))
