"""How dates, numbers and temperatures are written in a country."""

from __future__ import annotations

from typing import Literal, NamedTuple


class Habits(NamedTuple):
    """`day` is a pattern of ``{day}``, ``{month}`` and ``{year}``; `decimal` the mark."""

    day: str = "{day} {month} {year}"
    decimal: str = "."
    degrees: Literal["C", "F"] = "C"


_HABITS = {
    "US": Habits(day="{month} {day}, {year}", degrees="F"),
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
