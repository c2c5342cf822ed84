"""How strong a mix is, and what a printed percentage of it can mean.

Oxalic acid is sold as dihydrate and printed as either, by volume or by mass, so one mix has
four percentages. Which one a paper means is found by computing all four.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.mixing.contents import Contents, anhydrous_share
from fieldapp.words import say

Of = Literal["dihydrate", "anhydrous"]
As = Literal["w/v", "w/w"]

# By mass of dihydrate: from under the weakest published spray to over equal parts in glycerol.
# The bounds are this product's own and only catch what cannot be meant.
_PLAUSIBLE = Interval(1.0, 60.0)


class Strength(NamedTuple):
    """A percentage, of what and by what: w/v is g in 100 mL, w/w is g in 100 g."""

    percent: Interval
    of: Of
    by: As


def strengths(
    mix: Contents, chemistry: Table, volume: Interval | None = None
) -> tuple[Strength, ...]:
    """Return the four percentages of a mix, w/v dihydrate first.

    `volume` (mL) where it was measured or published; otherwise it is computed.
    """
    acid = mix.dihydrate
    if acid.high <= 0:
        raise Unfitting(say("There is no oxalic acid in this mix."))
    # The weak end has least acid in most of the rest, the strong end the other way round.
    weak = Contents(*(Interval(p.high, p.high) for p in mix))._replace(
        dihydrate=Interval(acid.low, acid.low)
    )
    strong = Contents(*(Interval(p.low, p.low) for p in mix))._replace(
        dihydrate=Interval(acid.high, acid.high)
    )
    room = volume or Interval(strong.volume(chemistry).low, weak.volume(chemistry).low)
    by_volume = Interval(100 * acid.low / room.high, 100 * acid.high / room.low)
    by_mass = Interval(100 * acid.low / weak.mass().low, 100 * acid.high / strong.mass().low)
    share = anhydrous_share(chemistry)
    return (
        Strength(by_volume, "dihydrate", "w/v"),
        Strength(by_volume.scaled(share), "anhydrous", "w/v"),
        Strength(by_mass, "dihydrate", "w/w"),
        Strength(by_mass.scaled(share), "anhydrous", "w/w"),
    )


def meant_by(
    printed: float, of_mix: tuple[Strength, ...], chemistry: Table
) -> tuple[Strength, ...]:
    """Return which of the four percentages a `printed` one fits; empty: none of them.

    It fits within half of its last printed digit and the error of a computed volume.
    """
    digits = len(f"{printed:.10f}".rstrip("0").split(".")[1])
    slack = 0.5 * 10.0**-digits
    error = chemistry.figure("volume", "error").low / 100
    return tuple(
        each
        for each in of_mix
        if each.percent.low * (1 - error) - slack
        <= printed
        <= each.percent.high * (1 + error) + slack
    )


def implausible(of_mix: tuple[Strength, ...]) -> Reason | None:
    """Return why a mix cannot be meant as it stands; None where it can.

    A slip of a thousand (mg written for g, or the other way round) is named as one.
    """
    percent = next(each.percent for each in of_mix if (each.of, each.by) == ("dihydrate", "w/w"))
    if _PLAUSIBLE.low <= percent.low and percent.high <= _PLAUSIBLE.high:
        return None
    for factor in (1000.0, 0.001):
        slip = Interval(*(_with_acid_times(factor, end) for end in percent))
        if slip.low <= _PLAUSIBLE.high and slip.high >= _PLAUSIBLE.low:
            return Reason(
                say(
                    "{percent} % by mass looks like a slip of a thousand: are g meant where mg "
                    "stand, or mg where g stand?",
                    percent=float(f"{percent.high:.3g}"),
                )
            )
    return Reason(
        say(
            "{percent} % by mass is outside anything published ({low} to {high} %): check each "
            "amount and its unit.",
            percent=float(f"{percent.high:.3g}"),
            low=_PLAUSIBLE.low,
            high=_PLAUSIBLE.high,
        )
    )


def _with_acid_times(factor: float, percent: float) -> float:
    """Return the percentage by mass of a mix with `factor` times the acid in the same rest."""
    acid, rest = percent * factor, 100 - percent
    return 100 * acid / (acid + rest)


def acid_grams(amount: float, strength: Strength, chemistry: Table) -> Interval:
    """Return grams of dihydrate in `amount`: mL for a w/v strength, g for a w/w one."""
    share = 1.0 if strength.of == "dihydrate" else 1 / anhydrous_share(chemistry)
    return strength.percent.scaled(amount * share / 100)
