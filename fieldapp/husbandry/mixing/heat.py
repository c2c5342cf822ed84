"""Heat, step by step: where the bench must stop, and where it must take care.

Glycerol and oxalic acid heated together give off gas and formic acid; a stop stands at every
step that heats them together above the limit, reheating included, or in which more was
measured. A step has the temperature to which it is heated. An addition off the heat has none;
it gets the caution to let the pot fall first.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.husbandry.mixing.recipe import Step
from fieldapp.words import Degrees, Phrase, say

Level = Literal["stop", "caution"]


class Finding(NamedTuple):
    """What is to be said at step number `step` (0: the first)."""

    step: int
    level: Level
    reason: Reason


class _Pot:
    """What is in the pot, whether it stands on the heat, how hot it was made; None: not known."""

    def __init__(self) -> None:
        self.acid = self.glycerol = self.on_heat = False
        self.hot: float | None = 20.0

    def take(self, step: Step) -> bool:
        """Do the step, and return whether it brought acid and glycerol together."""
        apart = not self.both
        self.acid |= step.what.startswith("oxalic acid")
        self.glycerol |= step.what == "glycerol"
        if _heats(step):
            self.on_heat = True
            self.hot = step.to
        elif step.do == "cool":
            self.on_heat = False
            self.hot = step.to if step.to is not None else self.hot
        elif step.off_heat:
            self.on_heat = False
        if step.measured is not None:
            self.hot = step.measured
        return apart and self.both

    @property
    def both(self) -> bool:
        return self.acid and self.glycerol


def _heats(step: Step) -> bool:
    return step.do in ("heat", "reheat") or (step.to is not None and step.do != "cool")


def findings(steps: Sequence[Step], chemistry: Table) -> tuple[Finding, ...]:
    """Return the stops and cautions of a recipe, in its order."""
    limit = chemistry.figure("heat", "together")
    pot = _Pot()
    found: list[Finding] = []
    for number, step in enumerate(steps):
        meets = pot.take(step)
        said = _together(step, pot, chemistry, meets=meets) if pot.both else _acid(step, pot, limit)
        if said is not None:
            level, phrase = said
            found.append(Finding(number, level, limit.reason(phrase)))
    return tuple(found)


def _together(
    step: Step, pot: _Pot, chemistry: Table, *, meets: bool
) -> tuple[Level, Phrase] | None:
    limit = chemistry.figure("heat", "together")
    over = pot.hot is not None and pot.hot > limit.low
    heated = _heats(step) or (meets and pot.on_heat)
    measured_over = step.measured is not None and over
    # Heated above the limit counts even where a lower temperature was measured afterwards.
    set_over = _heats(step) and step.to is not None and step.to > limit.low
    if measured_over or set_over or (heated and over):
        return "stop", _stop(limit, chemistry)
    if heated and pot.hot is None:
        return "stop", _not_known(limit)
    if meets and (over or pot.hot is None):
        return "caution", _let_fall(limit)
    return None


def _acid(step: Step, pot: _Pot, limit: Figure) -> tuple[Level, Phrase] | None:
    said = _heats(step) or step.measured is not None
    if pot.acid and said and (pot.hot is None or pot.hot > limit.low):
        return "caution", _water_and_acid(limit)
    return None


def _stop(limit: Figure, chemistry: Table) -> Phrase:
    gas, formic = chemistry.figure("heat", "gas"), chemistry.figure("heat", "formic")
    return say(
        "Stop: never heat glycerol together with oxalic acid above {limit}, reheating "
        "included. Near {gas} it gives off gas, at {low} to {high} formic acid. No flame, no "
        "microwave.",
        limit=Degrees(limit.low),
        gas=Degrees(gas.low),
        low=Degrees(formic.low),
        high=Degrees(formic.high),
    )


def _not_known(limit: Figure) -> Phrase:
    return say(
        "Stop: say to what temperature. Glycerol together with oxalic acid stays at or under "
        "{limit}, with a thermometer in it.",
        limit=Degrees(limit.low),
    )


def _let_fall(limit: Figure) -> Phrase:
    return say("Let it fall under {limit} first; measure it.", limit=Degrees(limit.low))


def _water_and_acid(limit: Figure) -> Phrase:
    return say(
        "Take care: water and oxalic acid above {limit}, splashes and steam burn. Outdoors or "
        "in a strong draught; goggles, gloves and mask on.",
        limit=Degrees(limit.low),
    )
