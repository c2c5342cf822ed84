"""Supers: where each is, which are exposed, and which lots of honey to hold."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from oracle_honey import Cause
from oracle_state import Exposure
from oracle_terms import wants_off
from oracle_versions import Fact

#: A super by its mark, or the unmarked supers of a hive: (mark or "", hive or None)
Super = tuple[str, str | None]


@dataclass
class Store:
    """Where supers are while the walk through the records goes on."""

    on: dict[Super, str] = field(default_factory=dict)
    counts: dict[Super, int] = field(default_factory=dict)
    uncounted: set[Super] = field(default_factory=set)
    exposed: dict[Super, bool] = field(default_factory=dict)
    held: set[str] = field(default_factory=set)

    def on_hive(self, hive: str | None) -> list[Super]:
        return [super_ for super_, where in self.on.items() if where == hive]

    def expose(self, super_: Super, certain: bool) -> None:
        self.exposed[super_] = certain or self.exposed.get(super_, False)

    def put_on(self, super_: Super, hive: str, count: int | None) -> None:
        self.on[super_] = hive
        if not super_[0]:
            if count is None:
                self.uncounted.add(super_)
            else:
                self.counts[super_] = self.counts.get(super_, 0) + count

    def take_off(self, super_: Super, count: int | None) -> None:
        """Take some or all off; where it is not known how many were on, some may still be."""
        if not super_[0] and count is not None:
            self.counts[super_] = max(0, self.counts.get(super_, 0) - count)
            if self.counts[super_] or super_ in self.uncounted:
                return
        self.on.pop(super_, None)
        self.counts.pop(super_, None)
        self.uncounted.discard(super_)


def named(fact: Fact, hive: str | None) -> Super:
    mark = fact.body.get("mark")
    return (mark, None) if mark else ("", hive)


def replay(
    facts: list[Fact],
    exposures: dict[str, list[Exposure]],
    causes: dict[str, list[Cause]],
    applications: frozenset[str],
) -> Store:
    """Walk through the records with all exposures and closed days known; return what is so.

    `applications` are those that count (a double that was answered does not).
    """
    store = Store()
    for fact in facts:
        _move(store, fact, causes)
        if fact.kind == "application" and fact.id in applications and fact.hive is not None:
            _seen_at(store, fact, exposures.get(fact.hive, []))
        elif fact.kind == "death":
            for super_ in store.on_hive(fact.hive):
                store.expose(super_, True)
        elif fact.kind == "comb_up":
            store.expose(named(fact, fact.hive), True)
        elif fact.kind in ("unite", "split", "transfer"):
            _combs_come(store, fact, causes)
        for super_, hive in store.on.items():
            between = any(_between(cause, fact) for cause in causes.get(hive, []))
            if between or any(_acts(exposure, fact) for exposure in exposures.get(hive, [])):
                store.expose(super_, True)
        if fact.kind == "harvest":
            _harvest(store, fact, causes)
    return store


def _combs_come(store: Store, fact: Fact, causes: dict[str, list[Cause]]) -> None:
    """Combs whose days are closed come under supers: as if these were put on then."""
    for super_, hive in store.on.items():
        for cause in causes.get(hive, []):
            came = cause.judged_from == fact.key
            if cause.supers and came and _within(fact.day, cause.first, cause.supers_last):
                store.expose(super_, True)


def _between(cause: Cause, fact: Fact) -> bool:
    """Whether the instant lies between two applications of a course that wants supers off."""
    return cause.supers and cause.until is not None and cause.judged_from <= fact.key <= cause.until


def _acts(exposure: Exposure, fact: Fact) -> bool:
    """Whether a super that is on now is exposed: between first in and last out, both included."""
    acting = exposure.judged_from <= fact.key and (exposure.end is None or fact.key <= exposure.end)
    said = [terms for terms, _ in exposure.all_terms]
    return acting and any(wants_off(t) or t.value("combs_exposed") for t in said)


def _move(store: Store, fact: Fact, causes: dict[str, list[Cause]]) -> None:
    body, count = fact.body, fact.body.get("count")
    if fact.kind == "super_on" and fact.hive:
        super_ = named(fact, fact.hive)
        lot: Super = ("", body.get("of_hive", fact.hive))
        if not super_[0] and lot in store.exposed:
            store.expose(super_, store.exposed[lot])
        _goes_on(store, super_, fact.hive, count, fact, causes)
    elif fact.kind == "super_off":
        store.take_off(named(fact, fact.hive), count)
    elif fact.kind == "super_carried":
        source, to_hive = named(fact, fact.hive), body["to_hive"]
        target = named(fact, to_hive)
        if source in store.exposed:
            store.expose(target, store.exposed[source])
        if not source[0] and count is None and source in store.counts:
            count = None if source in store.uncounted else store.counts[source]
        if source != target:
            store.take_off(source, body.get("count"))
        _goes_on(store, target, to_hive, count, fact, causes)
    elif fact.kind == "super_emptied":
        store.exposed.pop(named(fact, fact.hive), None)
    elif fact.kind == "split":
        for mark in body.get("supers_along", []):
            _goes_on(store, (mark, None), body["to_hive"], None, fact, causes)


def _goes_on(
    store: Store,
    super_: Super,
    hive: str,
    count: int | None,
    fact: Fact,
    causes: dict[str, list[Cause]],
) -> None:
    store.put_on(super_, hive, count)
    for cause in causes.get(hive, []):
        late_enough = cause.judged_from <= fact.key
        if cause.supers and late_enough and _within(fact.day, cause.first, cause.supers_last):
            store.expose(super_, True)


def _within(day: date, first: date, last: date | None) -> bool:
    return first <= day and (last is None or day <= last)


def _seen_at(store: Store, fact: Fact, exposures: list[Exposure]) -> None:
    """What the keeper saw at an application that wants supers off."""
    mine = [e for e in exposures if fact.id in e.names]
    if not any(
        wants_off(t) or t.value("combs_exposed") for e in mine for t in (e.own, e.course_terms)
    ):
        return
    seen = fact.body.get("supers")
    known_on = any(mark for mark, _ in store.on_hive(fact.hive))
    if seen == "not known" or (seen == "on" and not known_on):
        for super_ in (("", fact.hive), *store.on_hive(fact.hive)):
            store.expose(super_, seen == "on")


def _harvest(store: Store, fact: Fact, causes: dict[str, list[Cause]]) -> None:
    """Hold the lot where a hive was closed on that day, or a super exposed at that instant."""
    for take in fact.body["takes"]:
        mark = take.get("mark")
        super_: Super = (mark, None) if mark else ("", take["hive"])
        closed = any(
            cause.judged_from < fact.key and _within(fact.day, cause.first, cause.last)
            for cause in causes.get(take["hive"], [])
        )
        if closed or super_ in store.exposed:
            store.held.add(fact.body["lot"])
