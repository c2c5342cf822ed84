"""How much goes into a hive, for the round, and what is left of the batch.

A dose says of what (solution, dihydrate, piece …) and per what (seam, box, comb side, colony
…). What was not counted is asked for, never taken as something.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from fieldapp.husbandry.amounts import units
from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase, say

# Bases of which a hive has one, whatever its size.
_ONE = frozenset({"colony", "hive"})
_QUARTERS = frozenset({"seam"})


class Dose(NamedTuple):
    """A dose for one hive: from `least` to `most`, `amount` the one to give where it is one.

    All in `unit`, of `of`; None where the label does not say. `capped` where the label's most
    for one colony is what holds.
    """

    when: str
    least: float | None
    amount: float | None
    most: float | None
    unit: str
    of: str
    capped: bool
    reasons: tuple[Reason, ...]


class Asked(NamedTuple):
    """A dose that cannot be told yet: what has to be counted first."""

    when: str
    per: str
    reason: Reason


def doses(terms: Mapping[str, Any], size: Mapping[str, float]) -> tuple[Dose | Asked, ...]:
    """Return each dose that a treatment's terms (the body of a `terms` record) have for a hive.

    `size` says how many of each basis the hive has, by the terms' own word: ``seam`` to the
    quarter, ``box``, ``brood chamber``, ``frame of bees``, ``comb side``, ``strip``. Terms with
    several doses mean different colonies or seasons, told apart by `when`. Empty where the
    terms have no dose: *not known*.
    """
    value = terms["values"].get("dose")
    if value is None:
        return ()
    source = terms["sources"].get(value["source"], {})
    cited = ", ".join(str(source[key]) for key in ("title", "issuer", "year") if key in source)
    return tuple(_dose(entry, size, cited, value["standing"]) for entry in value["value"])


def _dose(
    entry: Mapping[str, Any], size: Mapping[str, float], source: str, standing: str
) -> Dose | Asked:
    per, when = entry["per"], entry.get("when", "")
    number = 1.0 if per in _ONE else size.get(per)
    if number is None:
        why = Reason(say("count first: dose per {per}", per=word(per)), (), source, standing)
        return Asked(when, per, why)
    cap = entry.get("cap")
    whole = {key: for_hive(entry.get(key), per, number) for key in ("least", "amount", "most")}
    capped = cap is not None and any(each is not None and each > cap for each in whole.values())
    amounts = {key: for_hive(entry.get(key), per, number, cap) for key in whole}
    reason = Reason(_in_words(entry, number), (), source, standing)
    reasons = [reason]
    if capped and cap is not None:
        text = say("not over {cap} {unit} for one colony", cap=cap, unit=units(entry["unit"], cap))
        reasons.append(Reason(text, (), source, standing))
    return Dose(
        when, **amounts, unit=entry["unit"], of=entry["of"], capped=capped, reasons=tuple(reasons)
    )


def for_hive(
    each: float | None, per: str, number: float | None, cap: float | None = None
) -> float | None:
    """Return what a hive gets that has `number` of what a dose of `each` is `per`, up to `cap`.

    None where the label does not say how much, or where nobody counted. A colony or hive is
    one, whatever was counted. Raises `Unfitting` for seams that are no quarters.
    """
    if per in _ONE:
        number = 1.0
    if each is None or number is None:
        return None
    if number < 0 or (per in _QUARTERS and (number * 4) % 1):
        raise Unfitting(say("Seams are counted to the quarter: 6, 6.25, 6.5, 6.75."))
    return each * number if cap is None else min(each * number, cap)


def _in_words(entry: Mapping[str, Any], number: float) -> Phrase:
    low = entry.get("least", entry.get("amount", entry.get("most", 0)))
    high = entry.get("most", entry.get("amount", low))
    if low == high:
        return say(
            "{number} x {amount} {unit} of {of} per {per}",
            number=number,
            amount=low,
            unit=units(entry["unit"], low),
            of=word(entry["of"]),
            per=word(entry["per"]),
        )
    return say(
        "{number} x {low} to {high} {unit} of {of} per {per}",
        number=number,
        low=low,
        high=high,
        unit=units(entry["unit"], high),
        of=word(entry["of"]),
        per=word(entry["per"]),
    )


class Total(NamedTuple):
    """What a round takes: from `least` to `most` in `unit`; `open` hives have no dose yet."""

    least: float
    most: float
    unit: str
    open: tuple[str, ...]


def total(by_hive: Mapping[str, Dose | Asked | None]) -> Total:
    """Return what the hives take together.

    Raises `Unfitting` where doses in different units would be added.
    """
    units, least, most, open_hives = set(), 0.0, 0.0, []
    for hive, dose in by_hive.items():
        ends = _ends(dose) if isinstance(dose, Dose) else None
        if ends is None or not isinstance(dose, Dose):
            open_hives.append(hive)
            continue
        units.add((dose.unit, dose.of))
        least, most = least + ends[0], most + ends[1]
    if len(units) > 1:
        raise Unfitting(say("Doses in different units cannot be added: one round, one treatment."))
    unit = next(iter(units))[0] if units else ""
    return Total(least, most, unit, tuple(open_hives))


def _ends(dose: Dose) -> tuple[float, float] | None:
    known = [each for each in (dose.least, dose.amount, dose.most) if each is not None]
    return (min(known), max(known)) if known else None


class Left(NamedTuple):
    """What is left of a batch, in its unit, and how many more doses it gives.

    `amount` below zero: more was given than was made, a gap to be named. `doses` None: each
    takes an unknown amount.
    """

    amount: float
    doses: int | None


def left(made: float, given: Iterable[float], each: float | None) -> Left:
    """Return what is left of a batch of `made` after `given`, where one more takes `each`."""
    rest = made - sum(given)
    if each is None or each <= 0:
        return Left(rest, None)
    # A dose that fits but for a rounding error of the sum still fits.
    return Left(rest, max(int((rest + 1e-9 * made) / each), 0))
