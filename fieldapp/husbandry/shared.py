"""What rules read of records that belong to no hive: terms, plans, periods, answers, apiaries.

Each kind of fact is kept by the root that made it, so that a correction, a void or a late
arrival replaces exactly what that root had said. `Shared.put` tells which keys of use it
touched; a hive that used one of them is to be folded anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fieldapp.husbandry.days import Key, order_key
from fieldapp.husbandry.keeper_answers import ANSWERS, KeeperAnswers
from fieldapp.husbandry.periods import Entry, entry_from
from fieldapp.husbandry.state import Plan
from fieldapp.husbandry.terms import Gap, Terms, terms_from, unknown_terms
from fieldapp.journal.record import Record
from fieldapp.journal.same_as import Same, groups

#: Kinds that belong to no hive and that rules read.
SHARED = frozenset(
    {
        "terms",
        "period",
        "plan",
        "apiary",
        "same_as",
        *ANSWERS,
    }
)


#: Of these every version that stands side by side counts for closed days; of others what holds.
_UNITED = frozenset({"terms", "period", "plan"})
#: Void, these say something too: that what they name is not one.
_SAY_VOID = frozenset({"same_as"})


class Apiary(NamedTuple):
    """The attributes of an apiary that hold: the latest by date."""

    id: str
    name: str
    country: str
    zone: str
    lat: float | None
    lon: float | None
    registration: str
    given_up: bool


class Shared:
    """Facts that any hive's fold may look up."""

    def __init__(self) -> None:
        self.same = Same()
        self.answers = KeeperAnswers()
        #: Counts changes of what closed days rest on.
        self.version = 0
        self._same_records: dict[str, Record] = {}
        self._terms: dict[str, tuple[Terms | None, ...]] = {}
        self._found: dict[tuple[str, str], tuple[Terms | None, ...]] = {}
        self._terms_keys: dict[str, Key] = {}
        self._by_treatment: dict[str, set[str]] = {}
        self._plans: dict[str, tuple[Plan | None, ...]] = {}
        self._entries: dict[str, dict[str, tuple[Entry, ...]]] = {}
        self._entry_treatments: dict[str, set[str]] = {}
        self._apiaries: dict[str, dict[str, tuple[Key, Record]]] = {}

    # What is looked up

    def hive(self, name: str) -> str:
        """Return the id that stands for a hive."""
        return self.same.of("hive", name) if self._same_records else name

    def told_apart(self) -> list[Record]:
        """Return the ``same_as`` records that are void: what they name was said not to be one."""
        return [record for record in self._same_records.values() if record.void]

    def terms_versions(self, name: str, treatment: str) -> tuple[Terms | None, ...]:
        """Return the versions of a terms record side by side, None for void, what holds first.

        An empty answer where the record has not arrived or is of another treatment; for an
        empty name the latest terms of the treatment.
        """
        found = self._found.get((name, treatment))
        if found is None:
            known = self._terms.get(name, ()) if name else self._latest(treatment)
            found = tuple(t for t in known if t is None or t.treatment == treatment)
            self._found[name, treatment] = found
        return found

    def all_terms(self, name: str, treatment: str) -> tuple[Terms, ...]:
        """Return every open version of a terms record, one that says nothing for void."""
        return tuple(
            terms or unknown_terms(treatment, name, pieces=False)
            for terms in self.terms_versions(name, treatment)
        )

    def terms(self, name: str, treatment: str) -> Terms | None:
        """Return the terms that hold under a record's id for a treatment."""
        versions = self.terms_versions(name, treatment)
        return versions[0] if versions else None

    def latest_terms(self) -> dict[str, Terms]:
        """Return the terms last recorded, by treatment identity."""
        treatments = sorted(self._by_treatment)
        latest = ((treatment, self.terms("", treatment)) for treatment in treatments)
        return {treatment: terms for treatment, terms in latest if terms is not None}

    def _latest(self, treatment: str) -> tuple[Terms | None, ...]:
        roots = self._by_treatment.get(treatment)
        if not roots:
            return ()
        return self._terms[max(roots, key=self._terms_keys.__getitem__)]

    def plan_versions(self, name: str) -> tuple[Plan | None, ...]:
        """Return a plan's versions side by side, None for void, the one that holds first.

        An empty answer where it has not arrived.
        """
        return self._plans.get(name, ())

    def plan(self, name: str) -> Plan | None:
        """Return the plan that holds by its root's id, None where it has not arrived."""
        return next(iter(self.plan_versions(name)), None)

    def plans(self) -> list[Plan]:
        """Return every plan, by id."""
        held = (self.plan(name) for name in sorted(self._plans))
        return [plan for plan in held if plan is not None]

    def entries(self, treatment: str) -> list[Entry]:
        """Return the periods entered for a treatment, in order."""
        roots = self._entries.get(treatment)
        if not roots:
            return []
        of = self.same.of
        found = [
            entry._replace(hive=of("hive", entry.hive)) if entry.hive else entry
            for entries in roots.values()
            for entry in entries
        ]
        found.sort(key=lambda entry: entry.key)
        return found

    def entered(self) -> list[str]:
        """Return the treatments for which somebody entered a period."""
        return sorted(treatment for treatment, entries in self._entries.items() if entries)

    def apiary(self, name: str) -> Apiary | None:
        """Return an apiary by id, None where no record tells of it."""
        records = self._apiaries.get(name)
        if not records:
            return None
        body = max(records.values(), key=lambda entry: entry[0])[1].body
        return Apiary(
            name,
            body["name"],
            body.get("country", ""),
            body.get("zone", ""),
            body.get("lat"),
            body.get("lon"),
            body.get("registration", ""),
            bool(body.get("given_up")),
        )

    def apiaries(self) -> list[Apiary]:
        """Return every apiary, by name."""
        found = (self.apiary(name) for name in self._apiaries)
        return sorted((a for a in found if a is not None), key=lambda a: (a.name, a.id))

    # What comes in

    def put(self, versions: Sequence[Record]) -> set[str]:
        """Take a root's open versions in (the one that holds last); return the keys of use."""
        record = versions[-1]
        self.version += record.kind in ("terms", "period", "same_as")
        latest_first = list(reversed(versions))
        if record.kind not in _UNITED:
            says_void = record.kind in _SAY_VOID
            latest_first = [each for each in latest_first[:1] if says_void or not each.void]
        if record.kind in ANSWERS:
            return self.answers.put(record.kind, record.id, latest_first)
        put = getattr(self, "_put_" + record.kind)
        keys: set[str] = put(record.id, latest_first)
        return keys

    def _put_terms(self, root: str, versions: list[Record]) -> set[str]:
        keys = {root}
        self._found.clear()
        for before in self._terms.pop(root, ()):
            if before is not None:
                keys.add(before.treatment)
                self._by_treatment.get(before.treatment, set()).discard(root)
        made = tuple(None if v.void else terms_from(v.body, root) for v in versions)
        self._terms[root] = made
        keys |= {terms.treatment for terms in made if terms is not None}
        held = made[0]
        if held is not None:
            first = versions[0]
            self._terms_keys[root] = order_key(first.happened, first.stamp, root)
            self._by_treatment.setdefault(held.treatment, set()).add(root)
        return keys

    def _put_plan(self, root: str, versions: list[Record]) -> set[str]:
        self._plans[root] = tuple(_plan(root, record) for record in versions)
        return {root}

    def _put_period(self, root: str, versions: list[Record]) -> set[str]:
        keys = set(self._entry_treatments.pop(root, ()))
        for treatment in keys:
            self._entries[treatment].pop(root, None)
        for record in (each for each in versions if not each.void):
            key = order_key(record.happened, record.stamp, root)
            entry = entry_from(record.body, record.hive or "", key)
            if entry is not None:
                entry = entry._replace(versions=len(versions))
                of_root = self._entries.setdefault(entry.treatment, {})
                of_root[root] = (*of_root.get(root, ()), entry)
                keys.add(entry.treatment)
                self._entry_treatments.setdefault(root, set()).add(entry.treatment)
        return keys

    def _put_apiary(self, root: str, versions: list[Record]) -> set[str]:
        keys = set()
        for name, records in self._apiaries.items():
            if records.pop(root, None) is not None:
                keys.add(name)
        if versions:
            record = versions[0]
            name = self.same.of("apiary", record.apiary or "")
            key = order_key(record.happened, record.stamp, root)
            self._apiaries.setdefault(name, {})[root] = (key, record)
            keys.add(name)
        return keys

    def _put_same_as(self, root: str, versions: list[Record]) -> set[str]:
        before = self._same_records.pop(root, None)
        keys = set(before.body["ids"]) if before is not None else set()
        if versions:
            self._same_records[root] = versions[0]
            keys |= set(versions[0].body["ids"])
        old = self.same
        self.same = groups(self._same_records.values())
        for what in ("apiary", "hive", "colony"):
            for name in list(keys):
                keys |= set(old.group(what, name)) | set(self.same.group(what, name))
        self._regroup()
        return keys

    def _regroup(self) -> None:
        """Put apiaries under the ids that stand for them now."""
        records = [pair for each in self._apiaries.values() for pair in each.values()]
        self._apiaries = {}
        for key, record in records:
            name = self.same.of("apiary", record.apiary or "")
            self._apiaries.setdefault(name, {})[record.id] = (key, record)


def _plan(root: str, record: Record) -> Plan | None:
    if record.void:
        return None
    body = record.body
    gap = Gap(*map(body["gap"].get, Gap._fields))
    return Plan(root, body["treatment"], body["number"], gap, body["ground"])
