"""A batch as it is written down, labelled and kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import HusbandryError
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.mixing.contents import Contents, contents
from fieldapp.husbandry.mixing.recipe import Recipe, steps
from fieldapp.husbandry.mixing.strength import As, Strength, strengths
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Degrees, Phrase, say


class Batch(NamedTuple):
    """An amount mixed at one time: by which recipe, how much, how strong, by whom, from what.

    `unit` is g or mL; `strength` None where it is not known; `lots` are the numbers on the
    packets that went in; `keep_until` is the keeper's own decision, None where none was made.
    """

    recipe: Recipe
    amount: float
    unit: str
    strength: Strength | None
    made: date
    by: str
    lots: tuple[str, ...] = ()
    keep_until: date | None = None


def batch_body(
    batch: Batch, drawn: Sequence[dict[str, Any]] = (), treatment: str | None = None
) -> dict[str, Any]:
    """Return the body of the `batch` record; `drawn` names the bought records it drew on."""
    body: dict[str, Any] = {
        "recipe": batch.recipe.title,
        "steps": [step.body() for step in batch.recipe.steps],
        "amount": batch.amount,
        "unit": batch.unit,
    }
    if batch.strength is not None:
        percent = batch.strength.percent
        body["strength"] = round((percent.low + percent.high) / 2, 2)
        body["strength_of"] = batch.strength.of
        body["strength_as"] = batch.strength.by
    if drawn:
        body["drawn"] = list(drawn)
    if treatment is not None:
        body["treatment"] = treatment
    if batch.keep_until is not None:
        body["keep_until"] = batch.keep_until.isoformat()
    return body


def strength_of(body: Mapping[str, Any], by: As, chemistry: Table) -> Strength | None:
    """Return the strength (w/v or w/w, by `by`) that the body of a `batch` record tells.

    Its steps tell a range where something was spooned, and both ways; they are followed only
    where they agree with the strength that was written down. None: not known.
    """
    value, of, written_by = (body.get(f"strength{key}") for key in ("", "_of", "_as"))
    if value is None or of not in ("dihydrate", "anhydrous") or written_by not in ("w/v", "w/w"):
        return None
    written = Strength(Interval(value, value), of, written_by)
    try:
        told = strengths(contents(steps(body.get("steps", [])), chemistry), chemistry)
    except (HusbandryError, TypeError):
        told = ()
    same = next((each for each in told if each[1:] == written[1:]), None)
    error = chemistry.figure("volume", "error").low / 100
    if same is not None and (
        same.percent.low * (1 - error) <= value <= same.percent.high * (1 + error)
    ):
        return next(each for each in told if (each.of, each.by) == (of, by))
    return written if written_by == by else None


def label(batch: Batch, chemistry: Table) -> tuple[Phrase, ...]:
    """Return the lines for the bottle: what it is, how strong, from when, and what it does."""
    rinse = chemistry.figure("oxalic", "rinse")
    lines = [
        say(
            "{recipe}: {amount} {unit}",
            recipe=batch.recipe.title,
            amount=batch.amount,
            unit=batch.unit,
        )
    ]
    if batch.strength is None:
        lines.append(say("strength not known"))
    else:
        lines.append(_strength(batch.strength))
    lines.append(say("made {day} by {who}", day=batch.made, who=batch.by))
    lines.append(
        say("lots: {lots}", lots=", ".join(batch.lots)) if batch.lots else say("lots not known")
    )
    lines.append(
        say("keep until {day}", day=batch.keep_until)
        if batch.keep_until is not None
        else say("keep until: not set")
    )
    return (
        *lines,
        say("CORROSIVE ACID. Not food, not drink. Out of reach of children."),
        say("Burns eyes, skin and airways; swallowed it can kill."),
        say("Goggles and acid-proof gloves. Bottle and spoon never see food again."),
        say("Eyes: rinse with water for at least {n} min, then to a doctor.", n=int(rinse.low)),
        say("Warm, stir, see that it is clear before dosing."),
    )


def _strength(strength: Strength) -> Phrase:
    low, high = strength.percent
    if high - low < 0.05 * high:
        return say(
            "{percent} % {by} oxalic acid as {of}",
            percent=round((low + high) / 2, 2),
            by=word(strength.by),
            of=word(strength.of),
        )
    return say(
        "about {low} to {high} % {by} oxalic acid as {of}",
        low=round(low, 1),
        high=round(high, 1),
        by=word(strength.by),
        of=word(strength.of),
    )


def keeping(mix: Contents, stored_at: float | None, chemistry: Table) -> tuple[Reason, ...]:
    """Return how long a batch may be kept; `stored_at` is the store's degC, None: not known.

    No number of days is published, so none is given: make for one winter, do not keep.
    """
    ideal, less = chemistry.figure("keeping", "ideal"), chemistry.figure("keeping", "much_less")
    if mix.sucrose.high <= 0:
        return (Reason(say("how long a mix without sugar keeps is not known: make what you use")),)
    once = say("make for one winter and do not keep what is left: no days are published")
    reasons = [chemistry.note(once, "notes", "one_winter")]
    if stored_at is None or stored_at > less.low:
        reasons.append(
            ideal.reason(say("at room temperature the sugar turns harmful to bees in some weeks"))
        )
    elif stored_at > ideal.low:
        reasons.append(
            less.reason(
                say(
                    "at {t} or under far less turns harmful; {ideal} is better",
                    t=Degrees(less.low),
                    ideal=Degrees(ideal.low),
                )
            )
        )
    else:
        best = say("at {t} or under it keeps best", t=Degrees(ideal.low))
        reasons.append(ideal.reason(best))
    losses = chemistry.figure("keeping", "losses")
    lost = say("bees were lost on syrup with up to {n} mg/kg of what forms", n=int(losses.low))
    reasons.append(losses.reason(lost))
    if stored_at is not None:
        grows = chemistry.figure("keeping", "hmf_per_ten")
        times = grows.low ** (max(stored_at - ideal.low, 0) / 10)
        reasons.append(
            grows.reason(
                say(
                    "it turns about {times} times as fast as at {t}",
                    times=float(f"{times:.2g}"),
                    t=Degrees(ideal.low),
                )
            )
        )
    hard = say("hard water goes cloudy with oxalic acid: take soft water")
    reasons.append(chemistry.note(hard, "notes", "calcium"))
    return tuple(reasons)
