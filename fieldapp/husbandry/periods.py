"""Withdrawal periods: which one holds for an application, and who may say so."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import product
from typing import Any, NamedTuple

from fieldapp.husbandry.days import Key, season_of
from fieldapp.husbandry.terms import Period, Terms, period_from

#: Countries wholly south of the equator, for apiaries without a position.
SOUTHERN = frozenset({"AR", "AU", "BO", "BW", "CL", "LS", "MG", "MU", "MZ", "NA", "NZ", "PY"}) | {
    "RE",
    "SZ",
    "UY",
    "ZA",
    "ZM",
    "ZW",
}


class Entry(NamedTuple):
    """A period that somebody entered for one treatment; `hive` empty: for every hive.

    `holds` is False for the keeper's word alone, for a label without its line, and where name,
    date or document of a veterinarian or authority is missing:
    such a figure is shown and opens nothing. `versions` of its record stand side by side.
    """

    record: str
    treatment: str
    hive: str
    period: Period
    who: str
    holds: bool
    key: Key
    versions: int = 1


def entry_from(body: Mapping[str, Any], hive: str, key: Key) -> Entry | None:
    """Return the entry that a ``period`` record makes; None where it has no figure."""
    given = body["given_by"]
    who = given["who"]
    named, document = bool(given.get("name")), bool(given.get("document"))
    if who == "label in hand":
        holds = document
    else:
        holds = who in ("veterinarian", "authority") and named and document and "day" in given
    parts = (given.get("name"), given.get("document"), given.get("day"))
    text = ", ".join(part for part in parts if part) or who
    standing = "label in hand" if who == "label in hand" else "reported"
    period = period_from(body["period"], text, standing, key[3])
    if period is None:
        return None
    return Entry(key[3], body["treatment"], hive, period, who, holds, key)


def holding(entries: Sequence[Entry], terms: Terms, hive: str) -> tuple[Period, ...]:
    """Return the periods of which the later end counts for an application on `hive`.

    Of several entries the latest holds. A label in hand replaces the library's; a named
    veterinarian's or authority's word stands beside a published one. Where versions of an
    entry stand side by side, each is as good. An empty answer: not known.
    """
    if all(entry.versions == 1 for entry in entries):
        return _holding(entries, terms, hive)
    by_record: dict[str, list[Entry | None]] = {}
    for entry in entries:
        by_record.setdefault(entry.record, []).append(entry)
    for versions in by_record.values():
        if versions[0] is not None and len(versions) < versions[0].versions:
            versions.append(None)
    found: dict[Period, None] = {}
    for choice in product(*by_record.values()):
        periods = _holding([entry for entry in choice if entry is not None], terms, hive)
        if not periods:
            return ()
        found.update(dict.fromkeys(periods))
    return tuple(found)


def _holding(entries: Iterable[Entry], terms: Terms, hive: str) -> tuple[Period, ...]:
    fitting = [entry for entry in entries if entry.holds and entry.hive in ("", hive)]
    latest = max(fitting, key=lambda entry: entry.key, default=None)
    periods = [latest.period] if latest is not None else []
    if terms.period is not None and (latest is None or latest.who != "label in hand"):
        periods.append(terms.period)
    return tuple(periods)


class Sides(NamedTuple):
    """On which side of the equator a hive stood: south or not, None where it is not known.

    `changes` are the days from which on it stood elsewhere, in order; `first` holds before.
    """

    first: bool | None
    changes: tuple[tuple[int, bool | None], ...] = ()

    def at(self, day: int) -> bool | None:
        """Return whether the hive stood south of the equator on a day."""
        south = self.first
        for since, side in self.changes:
            if since > day:
                break
            south = side
        return south


def next_season(end: int, supers_on: Iterable[Key], after: Key, south: bool | None) -> int | None:
    """Return the day before the first super of a later season went on; None: none did yet.

    `supers_on` are the hive's, in order; only those after the record `after` count. Where it
    is not known on which side of the equator the hive stands, it is to be later on both.
    """
    sides = (False, True) if south is None else (south,)
    for key in supers_on:
        if key > after and all(season_of(key[0], side) > season_of(end, side) for side in sides):
            return key[0] - 1
    return None
