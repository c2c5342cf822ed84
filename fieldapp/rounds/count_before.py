"""Before the count: what samples can tell at the levels that apply, and how many hives to wash."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.sampling import Outlook, bees_needed, can_answer, chance_to_miss
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.survey import hives_to_wash
from fieldapp.husbandry.thresholds import Threshold
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, count, say

#: Bees of the usual sample, and of one twice as large.
_SIZES = (300, 600)
#: Levels per 100 bees for which it is said where no published one is known.
_SUPPOSED = (2.0, 3.0)
#: Numbers of bad hives for which it is said how often a plan misses them.
_BAD = (1, 3)


def before(notebook: Notebook, counts: CountsTold, way: str) -> list[Told]:
    """Return whether a sample can answer the question, for the levels that apply."""
    hives = len(notebook.book.walk(counts.apiary, counts.day))
    told: list[Told] = []
    if way == "drop":
        words = say("A board shows the fall of all its days: three days or more tell more.")
        return [Told("quiet", words)]
    levels = counts.levels(way)
    for each in levels:
        for bees in _SIZES:
            found = can_answer(bees, each.figure.low)
            words = say(
                "{bees} bees at {level} per 100: {answer}",
                bees=bees,
                level=each.figure.low,
                answer=found.reasons[0].phrase,
            )
            sign: Sign = "unknown" if found.below_up_to is None else "done"
            told.append(Told(sign, words, tuple(_how_often(found))))
    told += counts.in_a_wash(way)
    if not told:
        words = say("No current threshold is known for this country and season.")
        told.append(Told("unknown", words, (say("Count all the same: the trend tells too."),)))
        told += [Told("quiet", _supposed(level)) for level in _SUPPOSED]
    elif levels:
        last = len(levels) * len(_SIZES) - 1
        source = why([levels[0].figure.reason(_named(levels))])
        told[last] = told[last]._replace(why=(*told[last].why, *source))
    wanted, plan = hives_to_wash(max(hives, 1), notebook.published.biology)
    if hives:
        asked = count(
            "Wash {n} hive to judge this apiary of {hives}",
            "Wash {n} hives to judge this apiary of {hives}",
            wanted,
            hives=hives,
        )
        told.append(Told("due", asked, tuple(why([plan.reason(say("published plan"))]))))
        told += _missed(hives, wanted)
    return told


def _how_often(found: Outlook) -> list[Phrase]:
    """Return how often a sample answers at loads beside the level, or how many bees it takes."""
    if found.below_up_to is None:
        return [say("At least {n} bees have to be taken.", n=bees_needed(found.per_100))]
    return [
        say(
            "It answers in {half} of 100 cases where the load is half of that, in {double} where "
            "it is double.",
            half=round(100 * found.chance_of_answer(found.per_100 / 2)),
            double=round(100 * found.chance_of_answer(found.per_100 * 2)),
        )
    ]


def _missed(hives: int, wanted: int) -> list[Told]:
    """Return how often so many hives miss the bad ones among all."""
    bad = [n for n in _BAD if n <= hives - wanted]
    return [
        Told(
            "quiet",
            count(
                "{n} bad hive of {hives}: missed in {missed} of 100 cases",
                "{n} bad hives of {hives}: all missed in {missed} of 100 cases",
                n,
                hives=hives,
                missed=round(100 * chance_to_miss(hives, n, wanted)),
            ),
        )
        for n in bad
    ]


def _supposed(level: float) -> Phrase:
    """Return what the usual sample can tell at a level that the keeper may have of his own."""
    found = can_answer(_SIZES[0], level)
    return say(
        "If you act at {level} per 100, {bees} bees: {answer}",
        level=level,
        bees=_SIZES[0],
        answer=found.reasons[0].phrase,
    )


def _named(levels: Sequence[Threshold]) -> Phrase:
    return say("level of {country}", country=levels[0].country)
