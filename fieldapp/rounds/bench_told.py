"""What the bench says of a mix, to be read at arm's length: steps, strength, crystals, keeping."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import HusbandryError
from fieldapp.husbandry.mixing import measures
from fieldapp.husbandry.mixing.batch import keeping
from fieldapp.husbandry.mixing.recipe import Recipe, Step
from fieldapp.husbandry.mixing.solubility import crystals
from fieldapp.husbandry.mixing.strength import Strength, implausible, meant_by, strengths
from fieldapp.husbandry.published import Published
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.vocabulary import word
from fieldapp.rounds.bench import Bench
from fieldapp.words import Degrees, Phrase, say

Sign = Literal["done", "due", "late", "quiet", "unknown"]

#: Said where acid goes in.
ACID_INTO_WATER = say("Acid into water, never water into acid")


class StepTold(NamedTuple):
    """One step: what is done, the amount as the picture, and what is said under it.

    `heats`: a temperature can be measured in it.
    """

    number: int
    act: Phrase
    figure: Phrase | None
    under: tuple[Phrase, ...]
    findings: tuple[tuple[Sign, Phrase], ...]
    heats: bool
    measured: bool

    @property
    def stops(self) -> bool:
        """Whether a stop stands at it."""
        return any(sign == "late" for sign, _ in self.findings)


class Told(NamedTuple):
    """One line: its sign and words."""

    sign: Sign
    words: Phrase


def told_steps(bench: Bench, recipe: Recipe, *, cups: bool = False) -> list[StepTold]:
    """Return the steps of a recipe as they are followed.

    Without scales a liquid is measured in mL, or where the kitchen has them in US `cups`.
    """
    found = bench.findings(recipe)
    return [
        StepTold(
            number,
            _act(step),
            _figure(step),
            tuple(_under(bench, step, cups=cups)),
            (
                *_acid(step),
                *(
                    ("late" if each.level == "stop" else "unknown", each.reason.phrase)
                    for each in found
                    if each.step == number
                ),
            ),
            step.do in ("heat", "reheat", "cool") or step.to is not None,
            step.measured is not None,
        )
        for number, step in enumerate(recipe.steps)
    ]


def _acid(step: Step) -> tuple[tuple[Sign, Phrase], ...]:
    return (("unknown", ACID_INTO_WATER),) if step.what.startswith("oxalic acid") else ()


def _act(step: Step) -> Phrase:
    if step.what:
        what = word(step.what)
        if step.off_heat:
            return say("Off the heat, put in {what}", what=what)
        return say("Put in {what}", what=what)
    return {
        "heat": say("Heat until clear"),
        "reheat": say("Heat again"),
        "stir": say("Stir until clear"),
        "cool": say("Let it fall"),
        "wait": say("Wait"),
    }.get(step.do, say("{what}", what=step.do))


def _figure(step: Step) -> Phrase | None:
    if step.amount is not None and step.unit.startswith("US "):
        return say(
            "{amount} {unit}",
            amount=spoons(step.amount),
            unit=measures.measure_word(step.unit, step.amount),
        )
    if step.amount is not None:
        return say("{amount} {unit}", amount=rounded(step.amount), unit=word(step.unit))
    if step.to is not None:
        return say("{degrees}", degrees=Degrees(step.to))
    return None


def _under(bench: Bench, step: Step, *, cups: bool) -> list[Phrase]:
    """Return an amount in grams where it is spooned, kitchen measures where scales lack."""
    if step.measured is not None:
        return [say("measured {degrees}", degrees=Degrees(step.measured))]
    if step.amount is None:
        return []
    tables = bench.notebook.published
    try:
        grams = measures.grams(step.what, step.amount, step.unit, tables.chemistry)
    except HusbandryError:
        return []
    lines = [] if measures.is_mass(step.unit) else [_grams(grams)]
    if bench.scales or step.unit.startswith("US "):
        return lines
    return [*lines, _without_scales(step.what, grams, tables, cups=cups)]


def _without_scales(what: str, grams: Interval, tables: Published, *, cups: bool) -> Phrase:
    middle = (grams.low + grams.high) / 2
    volume = None if cups else measures.poured(what, middle, tables.chemistry)
    if volume is not None:
        return say("{n} mL in a measuring jug", n=rounded(volume))
    spooned = measures.kitchen(what, middle, tables.chemistry, tables.measures)
    if not spooned:
        return say("{what} has to be weighed", what=word(what))
    best = spooned[0]
    return say(
        "{number} {unit}: holds {low} to {high} g",
        number=spoons(best.number),
        unit=measures.measure_word(best.unit, best.number),
        low=rounded(best.holds.low),
        high=rounded(best.holds.high),
    )


def _grams(grams: Interval) -> Phrase:
    low, high = rounded(grams.low), rounded(grams.high)
    if low == high:
        return say("{grams} g", grams=low)
    return say("{low} to {high} g: weighing is better", low=low, high=high)


def rounded(amount: float) -> float:
    """Return an amount as a kitchen balance shows it: three figures, no more than hundredths."""
    if amount <= 0:
        return 0.0
    places = min(2, max(0, 2 - math.floor(math.log10(amount))))
    return round(amount, places)


#: Parts of a measure that have a sign of their own.
_PARTS = {0.0: "", 0.25: "¼", 1 / 3: "⅓", 0.5: "½", 2 / 3: "⅔", 0.75: "¾"}


def spoons(number: float) -> str:
    """Return a number of kitchen measures as it is spoken: *1 ⅔*; else with two places."""
    whole, part = divmod(number, 1)
    for known, sign in _PARTS.items():
        if abs(part - known) < 0.005:
            return f"{int(whole)} {sign}".strip() if whole or not sign else sign
    return f"{number:.2f}"


def told_strength(bench: Bench, recipe: Recipe) -> list[Told]:
    """Return how strong the mix is, all four ways, and what a printed percentage means."""
    mix = bench.mix_of(recipe)
    chemistry = bench.notebook.published.chemistry
    if mix.dihydrate.high <= 0:
        return [Told("quiet", say("There is no oxalic acid in this mix."))]
    volume = recipe.yield_ml
    room = Interval(volume, volume) if volume is not None else None
    all_four = strengths(mix, chemistry, room)
    lines = []
    slip = implausible(all_four)
    if slip is not None:
        lines.append(Told("late", slip.phrase))
    lines += [Told("quiet", percent(each)) for each in all_four]
    if recipe.printed is not None:
        meant = meant_by(recipe.printed, all_four, chemistry)
        lines.append(_printed(recipe.printed, meant))
    return lines


def percent(strength: Strength) -> Phrase:
    """Return a strength in words: *about 3.5 % w/v as dihydrate*."""
    low, high = (float(f"{end:.3g}") for end in strength.percent)
    if low == high:
        return say(
            "about {percent} % {by} as {of}",
            percent=low,
            by=word(strength.by),
            of=word(strength.of),
        )
    return say(
        "about {low} to {high} % {by} as {of}",
        low=low,
        high=high,
        by=word(strength.by),
        of=word(strength.of),
    )


def _printed(printed: float, meant: tuple[Strength, ...]) -> Told:
    if not meant:
        return Told("late", say("The {n} % printed for it fits none of these: ask.", n=printed))
    ways = [say("{by} as {of}", by=word(each.by), of=word(each.of)) for each in meant]
    words = ways[0] if len(ways) == 1 else say("{one} or {other}", one=ways[0], other=ways[1])
    return Told("done", say("The {n} % printed for it means {ways}.", n=printed, ways=words))


def told_crystals(bench: Bench, recipe: Recipe) -> list[Told]:
    """Return about which temperature crystals come, on both readings of the table."""
    mix = bench.mix_of(recipe)
    if mix.dihydrate.high <= 0:
        return []
    try:
        found = crystals(mix, bench.notebook.published.chemistry)
    except HusbandryError as error:
        return [Told("unknown", error.phrase)]
    lines = [
        Told(
            "quiet",
            say(
                "Crystals under {one} on one reading of the table, {other} on the other.",
                one=_degrees(found.if_anhydrous),
                other=_degrees(found.if_dihydrate),
            ),
        )
    ]
    return lines + [Told("quiet", each) for each in why(found.reasons)]


def _degrees(ends: Interval) -> Phrase:
    low, high = ends
    if high == -math.inf:
        return say("less than the coldest in the table")
    if low == math.inf:
        return say("more than the warmest in the table")
    if low == -math.inf or high == math.inf:
        return say("a temperature that the table does not hold whole")
    if round(low) == round(high):
        return say("about {degrees}", degrees=Degrees(low, about=True))
    return say(
        "about {low} to {high}", low=Degrees(low, about=True), high=Degrees(high, about=True)
    )


def told_keeping(bench: Bench, recipe: Recipe) -> list[Told]:
    """Return how long it may be kept."""
    found = keeping(bench.mix_of(recipe), None, bench.notebook.published.chemistry)
    return [Told("unknown" if n == 0 else "quiet", each) for n, each in enumerate(why(found))]
