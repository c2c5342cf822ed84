"""An applicator that gives a mist or vapour by strokes or seconds, measured by its keeper.

What strokes gave is computed from measured strokes and the strength of the batch, and stands
beside what labelled methods of the country give. The other way round stands in `written`.
"""

from __future__ import annotations

import statistics
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.mixing.strength import Strength, acid_grams
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Degrees, Phrase, count, listed, say


class Measured(NamedTuple):
    """Strokes (or seconds) into a measure: how many, what came out, in mL or g."""

    strokes: int
    amount: float
    unit: str


class PerStroke(NamedTuple):
    """What one stroke gives: mean, the range over the repeats, and their standard deviation.

    `deviation` is None after a single measuring: the spread is *not known*, repeat it.
    """

    mean: float
    range: Interval
    deviation: float | None
    unit: str
    repeats: int


def per_stroke(repeats: Sequence[Measured]) -> PerStroke:
    """Return what one stroke gives, each repeat counting alike.

    Raises `Unfitting` for no repeat, no stroke, or units that differ.
    """
    if not repeats or any(each.strokes < 1 or each.amount < 0 for each in repeats):
        raise Unfitting(say("Measure some strokes into a measure first, and repeat it."))
    if len({each.unit for each in repeats}) > 1:
        raise Unfitting(say("Measure every repeat in the same unit."))
    each = [one.amount / one.strokes for one in repeats]
    deviation = statistics.stdev(each) if len(each) > 1 else None
    return PerStroke(
        statistics.fmean(each),
        Interval(min(each), max(each)),
        deviation,
        repeats[0].unit,
        len(each),
    )


class Given(NamedTuple):
    """What strokes gave: g of oxalic acid dihydrate, in these places, with its range.

    `grams` runs from the least repeat at the weakest to the most at the strongest. `spread` is
    the standard deviation in g that the repeats alone make, None after a single measuring.
    """

    strokes: int
    places: tuple[tuple[str, int], ...]
    grams: Interval
    spread: float | None
    words: Phrase

    @property
    def middle(self) -> float:
        """The middle of the range, in g."""
        return (self.grams.low + self.grams.high) / 2


def given(
    places: Mapping[str, int], stroke: PerStroke, strength: Strength, chemistry: Table
) -> Given:
    """Return the acid that `places` (strokes by place in the hive) gave.

    Raises `Unfitting` where the measuring and the strength do not go together: mL wants w/v,
    g wants w/w.
    """
    if {"mL": "w/v", "g": "w/w"}.get(stroke.unit) != strength.by:
        raise Unfitting(
            say("Strokes measured in mL want a strength w/v, strokes weighed in g one w/w.")
        )
    strokes = sum(places.values())
    if strokes < 1:
        raise Unfitting(say("No stroke was given."))
    low = acid_grams(strokes * stroke.range.low, strength, chemistry).low
    high = acid_grams(strokes * stroke.range.high, strength, chemistry).high
    spread = None
    if stroke.deviation is not None:
        deviation = acid_grams(strokes * stroke.deviation, strength, chemistry)
        spread = (deviation.low + deviation.high) / 2
    words = _given_in_words(strokes, places, Interval(low, high), spread)
    return Given(strokes, tuple(places.items()), Interval(low, high), spread, words)


def _given_in_words(
    strokes: int, places: Mapping[str, int], grams: Interval, spread: float | None
) -> Phrase:
    where = listed(say("{place} {n}", place=word(place), n=n) for place, n in places.items())
    middle = round((grams.low + grams.high) / 2, 2)
    if spread is None:
        return count(
            "{n} stroke ({places}) gave about {grams} g of oxalic acid dihydrate; the spread is "
            "not known, measure again",
            "{n} strokes ({places}) gave about {grams} g of oxalic acid dihydrate; the spread is "
            "not known, measure again",
            strokes,
            places=where,
            grams=middle,
        )
    return count(
        "{n} stroke ({places}) gave {grams} g of oxalic acid dihydrate, ± {spread} g",
        "{n} strokes ({places}) gave {grams} g of oxalic acid dihydrate, ± {spread} g",
        strokes,
        places=where,
        grams=middle,
        spread=round(max(grams.width / 2, spread), 2),
    )


class Labelled(NamedTuple):
    """What a labelled method of the country gives a hive: g of dihydrate, and for which colony."""

    method: Phrase | str
    grams: float
    reason: Reason


def beside(grams: Interval, labelled: Sequence[Labelled]) -> tuple[Reason, ...]:
    """Return in words how an amount stands to what labelled methods give; more is not better."""
    if not labelled:
        return (Reason(say("no labelled dose of this country is on record to compare with")),)
    return tuple(
        Reason(
            _ratio(grams.scaled(1 / each.grams), each),
            each.reason.records,
            each.reason.source,
            each.reason.standing,
        )
        for each in labelled
        if each.grams > 0
    )


def _ratio(times: Interval, each: Labelled) -> Phrase:
    low, high = (float(f"{end:.2g}") for end in times)
    if low == high:
        return say(
            "about {times} times what {method} gives ({grams} g)",
            times=low,
            method=each.method,
            grams=each.grams,
        )
    return say(
        "about {low} to {high} times what {method} gives ({grams} g)",
        low=low,
        high=high,
        method=each.method,
        grams=each.grams,
    )


def unlabelled(chemistry: Table) -> tuple[Reason, ...]:
    """Return what has to be said of an oxalic acid mist before the first stroke."""
    trial = chemistry.figure("oxalic", "fogging")
    breaks = chemistry.figure("oxalic", "decomposes")
    return (
        Reason(say("no published label is known for this method")),
        Reason(say("the period for honey is not known: closed until someone entitled gives one")),
        breaks.reason(
            say(
                "what the heat of a fogger makes of the acid was not assessed; from about {t} "
                "it breaks down to formic acid and carbon monoxide",
                t=Degrees(breaks.low, about=True),
            )
        ),
        trial.reason(
            say("one trial of {percent} % in water showed no effect on mites", percent=trial.low)
        ),
        Reason(
            say(
                "that trial used another mix: there is no evidence for this one, and that trial is "
                "no evidence about it"
            ),
            standing="computed",
        ),
        Reason(say("ask the authority")),
    )
