"""The register of apiaries: registration, colonies counted, movements, visits, standstills."""

from __future__ import annotations

from collections import defaultdict
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.ledger.facts import Fact, Facts
from fieldapp.husbandry.ledger.gap import Gap
from fieldapp.husbandry.ledger.movements import Movement, Places, movements
from fieldapp.husbandry.ledger.standstill import (
    Blocked,
    Standstill,
    blocked,
    breaches,
    standstills,
)
from fieldapp.journal.record import Record


class Premises(NamedTuple):
    """One apiary as a register has it, by the record that holds; records oldest first.

    `registration` and `country` are empty where they are not known.
    """

    apiary: str
    name: str
    country: str
    registration: str
    given_up: bool
    counts: tuple[Record, ...]
    visits: tuple[Record, ...]
    movements: tuple[Movement, ...]


class Register(NamedTuple):
    """All apiaries, by name, with their standstills and what was done against them."""

    premises: tuple[Premises, ...]
    movements: tuple[Movement, ...]
    standstills: tuple[Standstill, ...]
    gaps: tuple[Gap, ...]
    ids: dict[str, str]

    def of(self, apiary: str) -> Premises | None:
        """Return an apiary by any of its ids."""
        name = self.ids.get(apiary, apiary)
        return next((each for each in self.premises if each.apiary == name), None)

    def stood(self, hive: str, day: date) -> str | None:
        """Return where a hive stood at the end of `day`; None where no record says so.

        `hive` is the id that stands for it.
        """
        moved = [each for each in self.movements if each.hive == hive and each.day <= day]
        return moved[-1].to if moved else None

    def blocked(self, apiary: str, day: date) -> Blocked | None:
        """Return why hives of an apiary may not be moved or united nor combs exchanged."""
        return blocked(self.standstills, self.ids.get(apiary, apiary), day)


def register(facts: Facts) -> Register:
    """Return the register that the records make."""
    of = facts.same.of
    told: dict[str, Fact] = {}
    ids: dict[str, str] = {}
    for fact in facts.kind("apiary"):
        name = of("apiary", fact.record.apiary or "")
        told[name] = fact
        ids |= dict.fromkeys(facts.same.group("apiary", name), name)
    places = Places(facts)
    moved = movements(places)
    counts, visits = _by_apiary(facts, "colony_count"), _by_apiary(facts, "visit")
    premises = [
        Premises(
            apiary=name,
            name=fact.record.body["name"],
            country=fact.record.body.get("country", ""),
            registration=fact.record.body.get("registration", ""),
            given_up=bool(fact.record.body.get("given_up")),
            counts=tuple(counts[name]),
            visits=tuple(visits[name]),
            movements=tuple(each for each in moved if name in (each.origin, each.to)),
        )
        for name, fact in told.items()
    ]
    stood = standstills(facts)
    return Register(
        tuple(sorted(premises, key=lambda each: (each.name, each.apiary))),
        moved,
        stood,
        breaches(facts, stood, moved, places),
        ids,
    )


def _by_apiary(facts: Facts, kind: str) -> defaultdict[str, list[Record]]:
    found: defaultdict[str, list[Record]] = defaultdict(list)
    for fact in facts.kind(kind):
        found[facts.same.of("apiary", fact.record.apiary or "")].append(fact.record)
    return found
