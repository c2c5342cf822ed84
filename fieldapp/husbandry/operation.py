"""All hives of an operation from its decoded records, kept current record by record.

State is a pure function of the set of records: neither order nor repetition of arrival
matters, and taking records one by one ends where folding all of them does. A record folds
anew the hives that it touches, and those that they hand something else over to.
"""

from __future__ import annotations

from collections.abc import Iterable

from fieldapp.husbandry.along import going_along
from fieldapp.husbandry.assembly import Assembly
from fieldapp.husbandry.boxes import Boxes, Lookups
from fieldapp.husbandry.closing import Draft
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.doubles import Doubles, doubles
from fieldapp.husbandry.folding import (
    GIVES,
    Folding,
    Handovers,
    Run,
    Waypoints,
)
from fieldapp.husbandry.hivelog import ALWAYS, HiveLog
from fieldapp.husbandry.index import Index
from fieldapp.husbandry.intake import Dirty, Intake
from fieldapp.husbandry.kept import Kept
from fieldapp.husbandry.shared import Shared
from fieldapp.husbandry.state import HiveState, Question
from fieldapp.husbandry.supers import LotState, Marked
from fieldapp.journal.corrections import Version
from fieldapp.journal.record import Record


class Operation:
    """The records that rules read, indexed by hive, and each hive's state."""

    def __init__(self, kept: Kept | None = None, shared: Iterable[Record] = ()) -> None:
        """Begin with no records, or with `kept` states and the records that belong to no hive."""
        self.shared = Shared()
        self._handovers: Handovers = {}
        self._index = Index(self.shared, kept, self._handovers)
        self._waypoints: Waypoints = {}
        self._twice: dict[str, tuple[Question, ...]] = {}
        self._assembly = Assembly(self.shared, self._index.mark, self._index.in_order, kept)
        self._looks_up = Lookups(
            self.shared.terms_versions,
            self.shared.plan_versions,
            self.shared.answers.joins,
            self.shared.answers.pieces_along,
            lambda hive: self._index.log(hive).looks,
            self._going_along,
        )
        for record in shared:
            self._index.learn(record)
        for root in self._index.roots:
            self.shared.put(self._index.open(root))
        self._intake = Intake(self._index, self.shared, kept, self._forget)

    # Answers

    @property
    def hives(self) -> list[str]:
        """The ids of all hives of which a record tells, sorted."""
        return sorted(self._index.asleep | self._index.logs.keys())

    def state(self, hive: str) -> HiveState:
        """Return the state of a hive by any of its ids, an empty one for an unknown hive."""
        name = self.shared.same.of("hive", hive)
        return self._assembly.state(name) or HiveState(name)

    def let_go(self) -> None:
        """Drop all that it holds; it answers nothing afterwards.

        Its parts know each other, so the collector would have to free them: and that is told
        to leave alone what was there when the program had started.
        """
        for part in (self._assembly.supers, self._assembly, self._index, self._intake, self):
            vars(part).clear()

    def wake(self, hive: str) -> None:
        """Fold a hive that sleeps, so that the next record of it goes on from there."""
        name = self.shared.same.of("hive", hive)
        if name in self._index.asleep and not self._assembly.has(name):
            self._fold({name: ALWAYS}, set())

    def dressed(self, state: HiveState) -> HiveState:
        """Return a kept state with the terms, plans and periods that it names."""
        return self._assembly.dressed(state)

    def heads(self) -> list[Question]:
        """Return the records of which several versions stand side by side."""
        return [question for _, question in sorted(self._intake.heads.items())]

    def version(self, root: str) -> Version | None:
        """Return a root with all that corrects it, None where it has not arrived."""
        return self._index.version(root)

    # Records

    def take(self, records: Iterable[Record]) -> frozenset[str]:
        """Take records in and return the hives whose state was folded anew.

        A record already taken changes nothing; another content under the same id replaces
        it, as the journal says which of several counts.
        """
        return self._fold(*self._intake.take(records))

    def handed_over(self, hive: str) -> Handovers:
        """Return what a hive that is awake handed over to others, as it is now."""
        names = [
            (entry.record.id, entry.side.place if entry.side else 0, entry.far)
            for entry in self._index.log(hive).entries
            if entry.far and entry.what in GIVES
        ]
        return {name: self._handovers[name] for name in names if name in self._handovers}

    def lot(self, hive: str) -> LotState | None:
        """Return the state of a hive's unmarked supers."""
        return self._assembly.supers.lot(hive)

    def followed(self) -> list[tuple[str, Marked | None]]:
        """Return the marked supers followed anew since this operation began."""
        return self._assembly.supers.followed()

    def used(self) -> list[tuple[str, str]]:
        """Return which keys (terms, plans, answers) which hives are known to use, by pair."""
        return [(key, hive) for key, hives in self._index.uses.items() for hive in hives]

    @property
    def asleep(self) -> list[str]:
        """The hives that have a kept state and none of their own yet."""
        return [hive for hive in self._index.asleep if not self._assembly.has(hive)]

    # Folding

    def _forget(self, hive: str) -> None:
        self._assembly.forget(hive)
        self._waypoints.pop(hive, None)

    def _fold(self, dirty: Dirty, marks: set[str]) -> frozenset[str]:
        if not dirty and not marks:
            return frozenset()
        folding = Folding(
            self._index.log, self._doubles, self._looks_up, self._handovers, self._waypoints
        )
        known = {
            hive: since
            for hive, since in dirty.items()
            if hive in self._index.logs or hive in self._index.asleep
        }
        runs = folding.fold(known)
        for hive, run in runs.items():
            self._use_what_came(hive, run)
        return self._assembly.assemble(runs, marks, self._twice)

    def _use_what_came(self, hive: str, run: Run) -> None:
        """Note that a hive uses what courses and closed days from other hives rest on."""
        for boxes in run.branches:
            for draft in boxes.drafts:
                if draft.hive != hive:
                    self._index.uses[draft.treatment].add(hive)
                    self._index.uses[draft.terms].add(hive)
            for course in boxes.courses.values():
                if course.hive != hive:
                    for key in (course.treatment, course.terms, course.plan):
                        self._index.uses[key].add(hive)

    def _doubles(self, hive: str, log: HiveLog) -> Doubles:
        found = doubles(log.entries, self.shared)
        self._twice[hive] = found.asked
        return found

    def _going_along(self, boxes: Boxes, key: Key) -> tuple[Draft, ...]:
        return going_along(
            boxes, key, *self._assembly.facts(boxes.hive, self._index.log(boxes.hive))
        )


def fold_all(records: Iterable[Record]) -> dict[str, HiveState]:
    """Return the state of every hive from all records of an operation, in any order."""
    operation = Operation()
    operation.take(records)
    return {hive: operation.state(hive) for hive in operation.hives}
