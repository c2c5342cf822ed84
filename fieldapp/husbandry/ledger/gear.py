"""Applicators, parts and filters: how long they ran, and until when they may be used."""

from __future__ import annotations

from collections import defaultdict
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.ledger.facts import Fact, Facts
from fieldapp.husbandry.ledger.gap import Gap
from fieldapp.husbandry.ledger.units import tidy
from fieldapp.journal.record import Record
from fieldapp.words import Phrase, count, say

_HOUR = 3600


class Gear(NamedTuple):
    """A thing that wears or expires.

    `ran` are the hours that applications ran it since it was written down; `hours` those and
    the ones stated then, None where nobody stated any: not known, at least `ran`.
    """

    record: Record
    ran: float
    hours: float | None
    measured: tuple[Record, ...]

    @property
    def id(self) -> str:
        """The root's id."""
        return self.record.id

    @property
    def what(self) -> str:
        """``applicator``, ``part``, ``filter``, ``thermometer`` or ``other``."""
        return str(self.record.body["what"])

    @property
    def name(self) -> str:
        """What the keeper calls it."""
        return str(self.record.body["name"])

    @property
    def in_use(self) -> bool:
        """Whether it was not thrown away."""
        return not self.record.body.get("ended")

    @property
    def opened(self) -> date | None:
        """A filter's opening date, None where it is not known."""
        text = self.record.body.get("opened")
        return date.fromisoformat(text) if text else None

    @property
    def expiry(self) -> date | None:
        """Use by; None where it is not known."""
        text = self.record.body.get("expiry")
        return date.fromisoformat(text) if text else None

    @property
    def change_after(self) -> float | None:
        """Hours after which its maker wants it changed, None where that is not known."""
        return self.record.body.get("change_after_hours")

    @property
    def running(self) -> Phrase:
        """How long it ran, in words, to the tenth of an hour."""
        if self.hours is None:
            ran = round(self.ran, 1)
            return say("ran {ran} h since it was written down, before that not known", ran=ran)
        hours = round(self.hours, 1)
        if self.change_after is None:
            return say("ran {hours} h", hours=hours)
        return say("ran {hours} h of {most} h", hours=hours, most=float(self.change_after))


def gear(facts: Facts) -> tuple[tuple[Gear, ...], tuple[Gap, ...]]:
    """Return all gear, oldest first, and running time that nobody can be charged with.

    Seconds of an application count for the applicator it names and for that one's parts. One
    that names none counts for the one applicator in use, where there is one only.
    """
    things = facts.kind("gear")
    applicators = [fact for fact in things if fact.record.body["what"] == "applicator"]
    ran: defaultdict[str, list[tuple[Key, int]]] = defaultdict(list)
    unnamed: list[str] = []
    for fact in facts.kind("application"):
        seconds = fact.record.body.get("seconds")
        if not seconds:
            continue
        by = fact.record.body.get("gear") or _only(applicators, fact.key)
        if by:
            ran[by].append((fact.key, seconds))
        elif applicators:
            unnamed.append(fact.id)
    measured: defaultdict[str, list[Record]] = defaultdict(list)
    for fact in facts.kind("measured"):
        measured[fact.record.body["gear"]].append(fact.record)
    made = tuple(_gear(fact, ran, tuple(measured.get(fact.id, ()))) for fact in things)
    if not unnamed:
        return made, ()
    said = count(
        "{n} application ran on gear that nobody named",
        "{n} applications ran on gear that nobody named",
        len(unnamed),
    )
    return made, (Gap("hours", said, tuple(unnamed)),)


def _only(applicators: list[Fact], when: Key) -> str:
    there = [f.id for f in applicators if f.key <= when and not f.record.body.get("ended")]
    return there[0] if len(there) == 1 else ""


def _gear(
    fact: Fact, ran: defaultdict[str, list[tuple[Key, int]]], measured: tuple[Record, ...]
) -> Gear:
    body = fact.record.body
    runs = [*ran.get(fact.id, ()), *(ran.get(body["of"], ()) if "of" in body else ())]
    hours = sum(seconds for key, seconds in runs if key >= fact.key) / _HOUR
    stated = body.get("hours")
    return Gear(
        record=fact.record,
        ran=tidy(hours),
        hours=None if stated is None else tidy(stated + hours),
        measured=measured,
    )
