"""How dates, numbers and temperatures are written in a country."""

from __future__ import annotations

from typing import Literal, NamedTuple


class Habits(NamedTuple):
    """`day` is a pattern of ``{day}``, ``{month}`` and ``{year}``; `decimal` the mark.

    `cups` is whether a kitchen measures in US cups and spoons rather than in mL.
    """

    day: str = "{day} {month} {year}"
    decimal: str = "."
    degrees: Literal["C", "F"] = "C"
    cups: bool = False


_HABITS = {
    "US": Habits(day="{month} {day}, {year}", degrees="F", cups=True),
    "CA": Habits(),
    "DE": Habits(day="{day}. {month} {year}", decimal=","),
    "AT": Habits(day="{day}. {month} {year}", decimal=","),
    "CH": Habits(day="{day}. {month} {year}"),
    "FR": Habits(decimal=","),
    "HU": Habits(day="{year}. {month} {day}.", decimal=","),
}


def habits_of(country: str | None) -> Habits:
    """Return the habits of a country (ISO 3166, parts of countries too)."""
    return _HABITS.get((country or "")[:2], Habits())


def in_units(habits: Habits, units: str | None) -> Habits:
    """Return habits with other units: ``metric`` or ``us``; None leaves the country's."""
    if units == "us":
        return habits._replace(degrees="F", cups=True)
    return habits._replace(degrees="C", cups=False) if units == "metric" else habits
