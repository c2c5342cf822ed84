"""Beside one hive's count: how it changed since the one before, and the whole apiary.

A good mean hides no bad hive: each that is not surely below the level is named.
"""

from __future__ import annotations

from datetime import date
from math import inf

from fieldapp.husbandry.counting import Load, worst
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.survey import ApiaryLoad, Trend, apiary_load, trend
from fieldapp.journal import happened
from fieldapp.rounds.count_ahead import value_of
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.summary import listed
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, count, say

#: Days over which counts of an apiary's hives are taken together; this product's own mark.
TOGETHER = 14

_TRENDS: dict[str, Sign] = {"rising": "late", "falling": "quiet", "cannot tell": "unknown"}


def trend_told(counts: CountsTold) -> list[Told]:
    """Return how the last count stands to the one before it that was made the same way."""
    if not counts.entries:
        return []
    newest = counts.entries[0].holds
    day, later = happened.civil(newest.happened), counts.readings(newest.body)
    for entry in counts.entries[1:]:
        held = entry.holds
        before, first = happened.civil(held.happened), counts.readings(held.body)
        if later and first and before < day and held.body["way"] == newest.body["way"]:
            found = trend(max(first, key=value_of), before, max(later, key=value_of), day)
            return [Told(_TRENDS[found.says], _changed(found, before))]
    return []


def _changed(found: Trend, since: date) -> Phrase:
    words = {
        "rising": say("Rising since the count of {day}", day=since),
        "falling": say("Falling since the count of {day}", day=since),
        "cannot tell": say("Rising or falling since {day}: cannot tell", day=since),
    }
    if found.ratio is None:
        return words[found.says]
    low, high = (_figures(end) for end in found.interval)
    return say(
        "{words}: {ratio} times as many, {low} to {high}",
        words=words[found.says],
        ratio=_figures(found.ratio),
        low=low,
        high=high,
    )


def apiary_told(notebook: Notebook, counts: CountsTold) -> list[Told]:
    """Return the load of the apiary by its hives' counts of these days, the bad ones by number.

    Empty for boards, and where no other hive was counted the same way within `TOGETHER` days.
    """
    if not counts.entries or counts.entries[0].holds.body["way"] == "drop":
        return []
    newest = counts.entries[0].holds
    way, day = newest.body["way"], happened.civil(newest.happened)
    stops = [stop for stop in notebook.book.walk(counts.apiary, counts.day) if not stop.dead]
    samples: dict[str, Load] = {}
    for stop in stops:
        if _counted(notebook, stop.hive, way, day):
            sample = _sample(CountsTold(notebook, stop.hive), way, day)
            if sample is not None:
                samples[stop.number] = sample
    if len(samples) < 2:
        return []
    found = apiary_load(samples, len(stops), notebook.published.biology)
    words = say(
        "The apiary: {mean} per 100 bees, {low} to {high}, by {n} hives",
        mean=round(found.mean, 1),
        low=round(found.interval.low, 1),
        high=round(found.interval.high, 1),
        n=len(samples),
    )
    return [Told("quiet", words, tuple(why(found.reasons))), _bad(found, counts, way)]


def _counted(notebook: Notebook, hive: str, way: str, day: date) -> bool:
    """Whether a count of these days is in the hive's state, before its history is read."""
    return any(
        event.what == "count" and event.ref == way and abs(event.day - day.toordinal()) <= TOGETHER
        for event in notebook.book.hive(hive).events
    )


def _sample(counts: CountsTold, way: str, day: date) -> Load | None:
    for entry in counts.entries:
        held = entry.holds
        near = abs((happened.civil(held.happened) - day).days) <= TOGETHER
        if near and held.body["way"] == way:
            readings = [each for each in counts.readings(held.body) if isinstance(each, Load)]
            if readings:
                return worst(readings)
    return None


def _bad(found: ApiaryLoad, counts: CountsTold, way: str) -> Told:
    """Return the hives that are not surely below the level; without a level the highest."""
    levels = counts.levels(way)
    number, highest = found.hives[0]
    if not levels:
        value = round(highest.per_100, 1)
        return Told("quiet", say("Highest: hive {number}, {n} per 100", number=number, n=value))
    level = levels[0].figure.low
    bad = found.over(level)
    if bad:
        sign: Sign = "late" if highest.interval.low > level else "unknown"
        words = count(
            "Not surely below {level} per 100: hive {numbers}",
            "Not surely below {level} per 100: hives {numbers}",
            len(bad),
            level=level,
            numbers=listed(bad),
        )
        return Told(sign, words)
    sure = levels[0].figure.grounds and all(load.grounds for _, load in found.hives)
    words = say("Each of these hives is below {level} per 100", level=level)
    return Told("done" if sure else "quiet", words)


def _figures(value: float) -> float | Phrase:
    """Return a ratio with two figures."""
    return float(f"{value:.2g}") if value != inf else say("no known end")
