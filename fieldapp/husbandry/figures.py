"""Published figures: a value that never goes without its unit, its source and its standing.

Tables of figures come as TOML under ``assets/tables``; this module reads the text of one and
knows no path. Only figures that were *read*, *computed* from such, or stand on the *label in
hand* may be the ground of *suits*, *clear* or *below threshold*.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any, NamedTuple, TypeVar

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.errors import Damaged
from fieldapp.words import Phrase, say

STANDINGS = (
    "read",
    "computed",
    "label in hand",
    "reported",
    "from memory",
    "common practice",
)
GROUNDS = frozenset({"read", "computed", "label in hand"})

_T = TypeVar("_T")


class Source(NamedTuple):
    """Where a figure stands: title, issuer, year (None: not given), section, country, note."""

    title: str
    issuer: str = ""
    year: int | None = None
    section: str = ""
    country: str = ""
    note: str = ""

    def cite(self) -> str:
        """Return the source in one line, title first."""
        year = str(self.year) if self.year is not None else ""
        parts = (self.title, self.issuer, year, self.section, self.country, self.note)
        return ", ".join(part for part in parts if part)


class Figure(NamedTuple):
    """One published value, or the two ends of a range; `row` is its row in docs/sources.md."""

    low: float
    high: float
    unit: str
    standing: str
    source: Source
    row: str = ""

    @property
    def grounds(self) -> bool:
        """Whether the figure may be the ground of *suits* or *below threshold*."""
        return self.standing in GROUNDS

    def reason(self, phrase: Phrase, *records: str) -> Reason:
        """Return `phrase` as a reason that rests on this figure (and on `records`)."""
        return Reason(phrase, records, self.source.cite(), self.standing)


class Table(NamedTuple):
    """The entries of one TOML file of figures, with its sources by key."""

    name: str
    sources: Mapping[str, Source]
    entries: Mapping[str, Any]

    def figure(self, *path: str) -> Figure:
        """Return the figure at `path` (names of nested tables).

        Raises `Damaged` where it is missing or lacks unit, source or standing.
        """
        entry: Any = self.entries
        for step in path:
            if not isinstance(entry, dict) or step not in entry:
                raise self.damaged(".".join(path))
            entry = entry[step]
        return self.read_figure(entry, ".".join(path))

    def note(self, phrase: Phrase, *path: str) -> Reason:
        """Return `phrase` as a reason that rests on the entry at `path`, which has no figure."""
        entry: Any = self.entries
        for step in path:
            entry = entry.get(step, {})
        source = self.sources.get(entry.get("source", ""))
        if source is None or entry.get("standing") not in STANDINGS:
            raise self.damaged(".".join(path))
        return Reason(phrase, (), source.cite(), entry["standing"])

    def read_figure(self, entry: Any, where: str) -> Figure:
        """Return the figure that the TOML table `entry` holds; `where` names it in errors."""
        if not isinstance(entry, dict):
            raise self.damaged(where)
        low = self.need(entry, "low" if "low" in entry else "value", where, float)
        high = self.need(entry, "high", where, float) if "high" in entry else low
        standing = self.need(entry, "standing", where, str)
        source = self.sources.get(self.need(entry, "source", where, str))
        if source is None or standing not in STANDINGS or not low <= high:
            raise self.damaged(where)
        return Figure(
            low,
            high,
            self.need(entry, "unit", where, str),
            standing,
            source,
            self.need(entry, "row", where, str) if "row" in entry else "",
        )

    def need(self, entry: Mapping[str, Any], key: str, where: str, of: type[_T]) -> _T:
        """Return ``entry[key]``, a value of type `of` (a whole number will do for a float)."""
        value = entry.get(key)
        if of is float and type(value) is int:
            value = float(value)
        if type(value) is not of:
            raise self.damaged(f"{where}.{key}")
        return value

    def damaged(self, where: str) -> Damaged:
        """Return the error for a table that lacks what should stand at `where`."""
        return Damaged(
            say(
                "The table {table} that came with the app is damaged at {where}: install it again.",
                table=self.name,
                where=where,
            )
        )


def read_table(name: str, text: str) -> Table:
    """Return the table of figures in the TOML `text`; `name` stands in error messages."""
    try:
        entries = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise Table(name, {}, {}).damaged(str(error)) from error
    try:
        sources = {key: Source(**value) for key, value in entries.pop("sources", {}).items()}
    except (TypeError, AttributeError) as error:
        raise Table(name, {}, {}).damaged("sources") from error
    return Table(name, sources, entries)
