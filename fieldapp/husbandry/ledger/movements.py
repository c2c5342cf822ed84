"""Where each hive stood, and when it was moved: for the register."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.days import Key, as_date
from fieldapp.husbandry.ledger.facts import Fact, Facts


class Movement(NamedTuple):
    """A hive came (`origin` None), was moved, or went (`to` None, with why and to whom).

    `key` is its place among the records; ids are those that stand for their group.
    """

    key: Key
    hive: str
    number: str
    origin: str | None
    to: str | None
    ended: str = ""
    to_whom: str = ""

    @property
    def record(self) -> str:
        """The root's id."""
        return self.key[3]

    @property
    def day(self) -> date:
        """The civil day."""
        return as_date(self.key[0])

    @property
    def carried(self) -> bool:
        """Whether the hive went from one apiary to another."""
        return self.origin is not None and self.to is not None


class Places:
    """Which apiary each hive stood in at any place in the order of records."""

    def __init__(self, facts: Facts) -> None:
        self._same = facts.same
        self._of: defaultdict[str, list[Fact]] = defaultdict(list)
        for fact in facts.kind("hive"):
            self._of[facts.same.of("hive", fact.record.hive or "")].append(fact)

    @property
    def hives(self) -> Mapping[str, list[Fact]]:
        """The ``hive`` records of each hive, in order."""
        return self._of

    def apiary(self, hive: str, key: Key) -> str | None:
        """Return the apiary in which a hive stood just after `key`, None where not known."""
        before = [f for f in self._of.get(self._same.of("hive", hive), ()) if f.key <= key]
        return self.named(before[-1]) if before else None

    def named(self, fact: Fact) -> str:
        """Return the apiary that a record's envelope names."""
        return self._same.of("apiary", fact.record.apiary or "")


def movements(places: Places) -> tuple[Movement, ...]:
    """Return every coming, moving and going, in order."""
    found: list[Movement] = []
    for hive, facts in places.hives.items():
        at: str | None = None
        for fact in facts:
            body, to = fact.record.body, places.named(fact)
            if to != at:
                found.append(Movement(fact.key, hive, body["number"], at, to))
            at = to
            if "ended" in body:
                whom = body.get("to_whom", "")
                found.append(
                    Movement(fact.key, hive, body["number"], to, None, body["ended"], whom)
                )
                at = None
    return tuple(sorted(found, key=lambda movement: movement.key))
