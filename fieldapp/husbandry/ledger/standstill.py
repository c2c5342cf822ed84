"""A standstill that an inspector set: while it is, nothing is moved, united or exchanged."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.days import Key, as_date, order_key
from fieldapp.husbandry.ledger.facts import Fact, Facts
from fieldapp.husbandry.ledger.gap import Gap
from fieldapp.husbandry.ledger.movements import Movement, Places
from fieldapp.journal.record import Record
from fieldapp.journal.same_as import Same
from fieldapp.words import Phrase, say

#: What a standstill blocks beside moving a hive, by kind of record, and what was done against it.
AGAINST: dict[str, Phrase] = {
    "unite": say("united during a standstill"),
    "transfer": say("moved to other boxes during a standstill"),
    "split": say("combs given to another hive during a standstill"),
    "super_carried": say("a super carried to another hive during a standstill"),
}


class Standstill(NamedTuple):
    """A standstill of one apiary: who set it, from which record to which; `lifted` None: still."""

    apiary: str
    by: str
    set: Key
    lifted: Key | None

    def on(self, day: date) -> bool:
        """Whether it stands on `day`: from the day it was set to the day before it was lifted."""
        asked = day.toordinal()
        return self.set[0] <= asked and (self.lifted is None or asked < self.lifted[0])

    def at(self, key: Key) -> bool:
        """Whether it stood when the record at `key` happened."""
        return self.set <= key and (self.lifted is None or key < self.lifted)


class Blocked(NamedTuple):
    """Why hives of an apiary may not be moved or united nor combs exchanged."""

    apiary: str
    since: date
    reason: Reason


def standstills(facts: Facts) -> tuple[Standstill, ...]:
    """Return every standstill, in order.

    Where versions of a visit stand side by side, safety takes the worse: one that sets it
    does, and one that lifts it does so only where every version does.
    """
    steps: list[tuple[Key, str, str, str]] = []
    for versions in facts.open.values():
        steps += _steps(versions, facts.same)
    found: list[Standstill] = []
    open_at: dict[str, int] = {}
    for key, apiary, word, by in sorted(steps):
        if word == "set" and apiary not in open_at:
            open_at[apiary] = len(found)
            found.append(Standstill(apiary, by, key, None))
        elif word == "lifted" and apiary in open_at:
            place = open_at.pop(apiary)
            found[place] = found[place]._replace(lifted=key)
    return tuple(found)


def _steps(versions: tuple[Record, ...], same: Same) -> Iterable[tuple[Key, str, str, str]]:
    says = [None if each.void else each.body.get("standstill") for each in versions]
    steps = [
        (
            order_key(each.happened, each.stamp, each.id),
            same.of("apiary", each.apiary or ""),
            word,
            each.body["by"],
        )
        for each, word in zip(versions, says, strict=True)
        if word is not None
    ]
    if "set" in says:
        return [step for step in steps if step[2] == "set"]
    if any(word is None for word in says) or len({step[1] for step in steps}) > 1:
        return []
    return steps and [max(steps)]


def blocked(found: Iterable[Standstill], apiary: str, day: date) -> Blocked | None:
    """Return why moving, uniting and exchanging combs is blocked at an apiary on `day`."""
    for each in found:
        if each.apiary == apiary and each.on(day):
            since = as_date(each.set[0])
            said = say(
                "Standstill set by {who} on {day}: nothing is moved, united or exchanged "
                "until it is lifted.",
                who=each.by,
                day=since,
            )
            return Blocked(apiary, since, Reason(said, (each.set[3],)))
    return None


def breaches(
    facts: Facts, found: Iterable[Standstill], moved: Iterable[Movement], places: Places
) -> tuple[Gap, ...]:
    """Return what was moved, united or exchanged while a standstill stood, in order."""
    found = tuple(found)
    amiss: list[tuple[Key, Phrase]] = []
    for movement in moved:
        ends = {movement.origin, movement.to}
        if any(each.apiary in ends and each.at(movement.key) for each in found):
            amiss.append((movement.key, say("moved during a standstill")))
    for kind, phrase in AGAINST.items():
        for fact in facts.kind(kind):
            at = {places.apiary(hive, fact.key) for hive in _hives(fact)}
            if any(each.apiary in at and each.at(fact.key) for each in found):
                amiss.append((fact.key, phrase))
    return tuple(Gap("standstill", phrase, (key[3],)) for key, phrase in sorted(amiss))


def _hives(fact: Fact) -> list[str]:
    body = fact.record.body
    others = [body[name] for name in ("to_hive", "from_hive") if name in body]
    return [fact.record.hive or "", *others]
