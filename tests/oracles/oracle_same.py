"""Ids that are one, and the same application written down twice: the oracle's own reading."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from oracle_versions import Fact

_HIVE_FIELDS = ("to_hive", "from_hive", "of_hive")
_COLONY_FIELDS = ("to_colony", "from_colony", "new_colony")


def groups(facts: list[Fact], what: str) -> dict[str, str]:
    """Return id → the smallest id of its group, for every id that a `same_as` names."""
    sets: list[set[str]] = []
    for fact in facts:
        if fact.kind == "same_as" and fact.body["what"] == what:
            joined = set(fact.body["ids"])
            for other in [s for s in sets if s & joined]:
                sets.remove(other)
                joined |= other
            sets.append(joined)
    return {id_: min(group) for group in sets for id_ in group}


def renamed(facts: list[Fact]) -> list[Fact]:
    """Return the facts with every apiary, hive and colony under the id that stands for it."""
    apiary, hive, colony = (groups(facts, what) for what in ("apiary", "hive", "colony"))

    def body_of(fact: Fact) -> dict[str, Any]:
        body = dict(fact.body)
        for name in _HIVE_FIELDS:
            if name in body:
                body[name] = hive.get(body[name], body[name])
        for name in _COLONY_FIELDS:
            if name in body:
                body[name] = colony.get(body[name], body[name])
        if fact.kind == "harvest":
            body["takes"] = [
                {**take, "hive": hive.get(take["hive"], take["hive"])} for take in body["takes"]
            ]
        return body

    return [
        replace(
            fact,
            apiary=apiary.get(fact.apiary or "", fact.apiary),
            hive=hive.get(fact.hive or "", fact.hive),
            colony=colony.get(fact.colony or "", fact.colony),
            body=body_of(fact),
        )
        for fact in facts
    ]


@dataclass(frozen=True)
class Twice:
    """What is known of applications that may be one.

    `stands_for` maps an id that was answered to be another's double to the id that holds;
    `doubles` maps an unanswered double to the earliest under its key; `asked` holds the open
    questions, each the set of all ids under a key; `under` says on which hive and day each is.
    """

    stands_for: dict[str, str]
    doubles: dict[str, str]
    asked: frozenset[frozenset[str]]
    under: dict[str, tuple[str | None, str]]

    def same_as(self, fact: Fact) -> str | None:
        """Return the application that this one is another record of, by an answer."""
        return self.stands_for.get(fact.id) if self._there(fact) else None

    def double_of(self, fact: Fact) -> str | None:
        """Return the application that this one may be another record of."""
        return self.doubles.get(fact.id) if self._there(fact) else None

    def _there(self, fact: Fact) -> bool:
        """Whether it is on the hive and day on which it was found to be one of several."""
        return self.under.get(fact.id) == (fact.hive, fact.key[0])


def twice(facts: list[Fact]) -> Twice:
    """Return the answers and the open questions; `facts` are renamed and in order."""
    by_key: dict[tuple[str | None, str, str], list[str]] = {}
    for fact in facts:
        if fact.kind == "application":
            key = (fact.hive, fact.body["treatment"], fact.key[0])
            by_key.setdefault(key, []).append(fact.id)
    answers = sorted(
        (fact for fact in facts if fact.kind == "answer_twice"),
        key=lambda fact: (fact.stamp, fact.id),
        reverse=True,
    )
    stands_for: dict[str, str] = {}
    doubles: dict[str, str] = {}
    asked = set()
    for ids in by_key.values():
        if len(ids) < 2:
            continue
        for answer in answers:
            if set(ids) <= {id_ for part in answer.body["parts"] for id_ in part}:
                stands_for.update(_first_of_parts(ids, answer.body["parts"]))
                break
        else:
            asked.add(frozenset(ids))
            doubles.update(dict.fromkeys(ids[1:], ids[0]))
    under = {f.id: (f.hive, f.key[0]) for f in facts if f.kind == "application"}
    return Twice(stands_for, doubles, frozenset(asked), under)


def _first_of_parts(ids: list[str], parts: list[list[str]]) -> dict[str, str]:
    """Return the doubles among `ids` (in order) → the earliest of their part."""
    left = list(ids)
    doubles = {}
    for part in parts:
        of_part = [id_ for id_ in left if id_ in part]
        left = [id_ for id_ in left if id_ not in part]
        for id_ in of_part[1:]:
            doubles[id_] = of_part[0]
    return doubles
