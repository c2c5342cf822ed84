"""Is it over the threshold? By country, season, phase and way of counting.

A threshold says *below* only where its figure was read, computed or stands on a label in hand,
and its source has a year not more than ten years before the count. Older ones, and those
without a year, are shown as history. Every published reading of the sample has to agree.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval, poisson
from fieldapp.husbandry.counting import Drop, Load
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase, say

Says = Literal["over", "below", "cannot tell"]
PER_100, PER_DAY, PER_WASH = "mites per 100 bees", "mites per day", "mites in a wash"
_KEEPS_YEARS = 10
#: Bees of a whole sample of one colony (row B11 of docs/sources.md).
_WHOLE_SAMPLE = 300


class Threshold(NamedTuple):
    """A published level: over `figure.low` something is to be done.

    `months` empty: all year; `phase` and `colony` empty: any. `at` is true where the level
    itself already counts as over.
    """

    id: str
    country: str
    ways: tuple[str, ...]
    months: tuple[int, ...]
    phase: str
    colony: str
    means: str
    at: bool
    figure: Figure

    def history_in(self, year: int) -> bool:
        """Return whether in `year` the source is too old, or of no known year."""
        published = self.figure.source.year
        return published is None or year - published > _KEEPS_YEARS

    def fits(self, country: str, way: str, day: date, phase: str, colony: str) -> bool:
        """Return whether the threshold is for such a count.

        A threshold of a phase or sort of colony fits where that is known to be so; a whole
        country's fits its parts, never the other way round.
        """
        return (
            (country == self.country or country.startswith(self.country + "-"))
            and way in self.ways
            and (not self.months or day.month in self.months)
            and self.phase in ("", phase)
            and self.colony in ("", colony)
        )


class Judgement(NamedTuple):
    """What one threshold says of one count. `chance` is about how likely the load is over it."""

    threshold: Threshold
    says: Says
    history: bool
    chance: float | None
    reasons: tuple[Reason, ...]


class Answer(NamedTuple):
    """What all thresholds that fit say together, each judgement kept."""

    says: Says
    judgements: tuple[Judgement, ...]
    reasons: tuple[Reason, ...]


def read_thresholds(table: Table) -> tuple[Threshold, ...]:
    """Return the thresholds of `table`. Raises `Damaged` where one lacks its figure."""
    return tuple(
        Threshold(
            entry["id"],
            table.need(entry, "country", entry["id"], str),
            tuple(table.need(entry, "ways", entry["id"], list)),
            tuple(entry.get("months", ())),
            entry.get("phase", ""),
            entry.get("colony", ""),
            table.need(entry, "means", entry["id"], str),
            entry.get("at", False),
            table.read_figure(entry.get("figure"), entry["id"]),
        )
        for entry in table.entries["threshold"]
    )


def judge(readings: Sequence[Load] | Sequence[Drop], threshold: Threshold, day: date) -> Judgement:
    """Return what `threshold` says of a count made on `day`, under every reading of it."""
    found = {_compare(reading, threshold) for reading in readings}
    says: Says = found.pop() if len(found) == 1 else "cannot tell"
    history = threshold.history_in(day.year)
    reasons = [_named(threshold)]
    if history:
        reasons.append(threshold.figure.reason(_age(threshold.figure.source.year, day.year)))
        says = "cannot tell"
    elif says == "below":
        if not threshold.figure.grounds:
            reasons.append(threshold.figure.reason(say("not read at its source: shown, no ground")))
            says = "cannot tell"
        elif not all(reading.grounds for reading in readings):
            reasons.append(Reason(say("how many bees, or how much of the board, is not sure")))
            says = "cannot tell"
    chances = [
        reading.chance_over(threshold.figure.low)
        for reading in readings
        if threshold.figure.unit == (PER_100 if isinstance(reading, Load) else PER_DAY)
    ]
    return Judgement(threshold, says, history, max(chances, default=None), tuple(reasons))


def _compare(reading: Load | Drop, threshold: Threshold) -> Says:
    level, interval = threshold.figure.low, reading.interval
    units = (PER_100, PER_WASH) if isinstance(reading, Load) else (PER_DAY,)
    if threshold.figure.unit not in units:
        return "cannot tell"
    if threshold.figure.unit == PER_WASH:
        # The body acts on the number counted, so over is over whatever chance may say.
        if reading.mites > level or (threshold.at and reading.mites == level):
            return "over"
        # A small sample holds few mites whatever the load, so it shows nothing to be below.
        whole = isinstance(reading, Load) and reading.bees >= _WHOLE_SAMPLE
        interval = Interval(0, poisson(reading.mites).high if whole else math.inf)
    if interval.high < level:
        return "below"
    return "over" if interval.low > level else "cannot tell"


def _age(published: int | None, year: int) -> Phrase:
    if published is None:
        return say("history: its source gives no year")
    return say("history: its source is {age} years older than the count", age=year - published)


def _named(threshold: Threshold) -> Reason:
    return threshold.figure.reason(
        say(
            "{country}: {means} over {level} {unit}",
            country=threshold.country,
            means=word(threshold.means),
            level=threshold.figure.low,
            unit=word(threshold.figure.unit),
        )
    )


def answer(
    readings: Sequence[Load] | Sequence[Drop],
    thresholds: Iterable[Threshold],
    country: str,
    day: date,
    *,
    phase: str = "",
    colony: str = "",
) -> Answer:
    """Return whether the count of `day` is over the thresholds of `country`.

    *Over* where any current one says so; *below* only where at least one says so and none
    leaves it open; without readings or thresholds it *cannot tell*.
    """
    if not readings:
        return _open((), say("how many bees were in the sample is not known"))
    first = readings[0]
    way = first.way if isinstance(first, Load) else "drop"
    fitting = [each for each in thresholds if each.fits(country, way, day, phase, colony)]
    judgements = tuple(judge(readings, each, day) for each in fitting)
    current = [each for each in judgements if not each.history]
    if not current:
        return _open(judgements, say("no current threshold known for this country and season"))
    says: Says = "cannot tell"
    if any(each.says == "over" for each in current):
        says = "over"
    elif _all_below(readings, current):
        says = "below"
    return Answer(says, judgements, tuple(r for each in current for r in each.reasons))


def _all_below(readings: Sequence[Load] | Sequence[Drop], current: Sequence[Judgement]) -> bool:
    """Return whether a sound threshold says below and no weaker one leaves it open."""
    weak = [each for each in current if each.says != "below"]
    return len(weak) < len(current) and all(
        not each.threshold.figure.grounds
        and all(_compare(reading, each.threshold) == "below" for reading in readings)
        for each in weak
    )


def _open(judgements: tuple[Judgement, ...], why: Phrase) -> Answer:
    return Answer("cannot tell", judgements, (Reason(why),))
