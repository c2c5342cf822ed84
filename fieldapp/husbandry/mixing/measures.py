"""Units at the bench: grams, millilitres, and kitchen measures where there are no scales.

pint does the conversions; it is imported at the first one, so that nothing else waits for it.
A measure of loose powder holds a range of grams, not a figure, and says so.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase, counted, say

if TYPE_CHECKING:
    import pint

_UNITS = {
    "mg": "milligram",
    "g": "gram",
    "kg": "kilogram",
    "oz": "ounce",
    "lb": "pound",
    "mL": "milliliter",
    "L": "liter",
    "US cup": "cup",
    "US tablespoon": "tablespoon",
    "US teaspoon": "teaspoon",
    "US fl oz": "US_fluid_ounce",
    "US gal": "US_liquid_gallon",
    "imp fl oz": "imperial_fluid_ounce",
    "imp pint": "imperial_pint",
    "imp gal": "imperial_gallon",
    "degC": "degree_Celsius",
    "degF": "degree_Fahrenheit",
    "cm": "centimeter",
    "inch": "inch",
    "g/mL": "gram / milliliter",
}


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint  # noqa: PLC0415  (0.2 s, wanted only here)

    return pint.UnitRegistry()


def convert(amount: float, unit: str, to: str) -> float:
    """Return `amount` of `unit` in the unit `to`, both as written in this product.

    Raises `Unfitting` for a unit that is not known, or where one is mass and one is volume.
    """
    for name in (unit, to):
        if name not in _UNITS:
            raise Unfitting(say("{unit} is no unit of this bench.", unit=name))
    if unit == to:
        return amount
    registry = _registry()
    quantity = registry.Quantity(amount, _UNITS[unit])
    if not quantity.is_compatible_with(_UNITS[to]):
        raise Unfitting(say("{unit} cannot be told in {to}.", unit=unit, to=to))
    return float(quantity.to(_UNITS[to]).magnitude)


def is_mass(unit: str) -> bool:
    """Return whether `unit` is one of mass."""
    return unit in ("mg", "g", "kg", "oz", "lb")


def density(what: str, chemistry: Table) -> Figure | None:
    """Return g/mL of `what` as it is poured or spooned; None where no figure is known."""
    if what in ("water", "glycerol"):
        return chemistry.figure("volume", what)
    if what == "oxalic acid dihydrate":
        loose = chemistry.figure("bulk", "oxalic_loose")
        return chemistry.figure("bulk", "oxalic_settled")._replace(low=loose.low)
    return None


def grams(what: str, amount: float, unit: str, chemistry: Table) -> Interval:
    """Return the mass in g of `amount` `unit` of `what`: a range for a loose powder.

    Raises `Unfitting` for a volume of something of which no density is known: weigh it.
    """
    if is_mass(unit):
        mass = convert(amount, unit, "g")
        return Interval(mass, mass)
    volume = convert(amount, unit, "mL")
    figure = density(what, chemistry)
    if figure is None:
        raise Unfitting(
            say("How much a measure of {what} weighs is not known: weigh it.", what=word(what))
        )
    return Interval(figure.low * volume, figure.high * volume)


def poured(what: str, grams: float, chemistry: Table) -> float | None:
    """Return the mL of a liquid that weigh so many grams; None for what is no liquid."""
    figure = density(what, chemistry) if what in ("water", "glycerol") else None
    return None if figure is None else 2 * grams / (figure.low + figure.high)


class Kitchen(NamedTuple):
    """A kitchen measure in place of scales: `number` of `unit`, which holds `holds` g.

    `off` is by how many percent that may miss what was wanted, at its worse end.
    """

    number: float
    unit: str
    holds: Interval
    off: float
    reasons: tuple[Reason, ...]


def kitchen(what: str, wanted_g: float, chemistry: Table, measures: Table) -> tuple[Kitchen, ...]:
    """Return kitchen measures that come near `wanted_g` grams of `what`, the nearest first.

    The range takes in how loose the powder lies and how households round their measures.
    Empty where no density is known: such a thing has to be weighed.
    """
    if wanted_g <= 0:
        raise Unfitting(say("An amount is above zero."))
    figure = density(what, chemistry)
    if figure is None:
        return ()
    middle = (figure.low + figure.high) / 2
    found = []
    for entry in measures.entries["measure"]:
        exact = measures.read_figure(entry["exact"], entry["name"])
        household = measures.read_figure(entry["household"], entry["name"])
        number = _nearest(wanted_g / (middle * exact.low), entry["parts"])
        if number == 0:
            continue
        holds = Interval(number * exact.low * figure.low, number * household.high * figure.high)
        off = 100 * max(abs(holds.low / wanted_g - 1), abs(holds.high / wanted_g - 1))
        words = say(
            "{number} {unit} of {what} hold {low} to {high} g: weighing is better",
            number=round(number, 2),
            unit=measure_word(entry["name"], number),
            what=word(what),
            low=round(holds.low, 1),
            high=round(holds.high, 1),
        )
        reasons = (
            figure.reason(words),
            exact.reason(say("volume of a {unit}", unit=word(entry["name"]))),
        )
        found.append(Kitchen(number, entry["name"], holds, off, reasons))
    return tuple(sorted(found, key=lambda each: each.off))


def measure_word(unit: str, number: float) -> Phrase | str:
    """Return a kitchen measure in the form that goes with its number: *½ US cup*, *2 US cups*."""
    return counted(word(unit), 1 if number <= 1 else number)


def _nearest(number: float, parts: list[float]) -> float:
    """Return the whole measures and one part of a measure that come nearest to `number`."""
    whole = int(number)
    return min((whole + part for part in (0, *parts)), key=lambda each: abs(each - number))
