"""The book: what every hive's records mean, kept current as the journal grows."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Self

from fieldapp.book.answers import Asked, Entry, Lot, Place, Stop
from fieldapp.book.questions import asked
from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.answers import Honey, Item, Line, Reason
from fieldapp.husbandry.days import as_date, record_key
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.lines import grouped, line_order, monthly_count
from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.placing import hives_named
from fieldapp.husbandry.progress import CourseView, view
from fieldapp.husbandry.state import HiveState, Plan
from fieldapp.husbandry.terms import Period, Terms
from fieldapp.journal.corrections import Version, version
from fieldapp.journal.record import Record
from fieldapp.journal.store import Journal
from fieldapp.words import say


class Book:
    """Answers from one journal; made by `Book.open`. Use it from one thread at a time."""

    def __init__(self, journal: Journal, path: Path | None) -> None:
        """Join the parts; use `open` instead."""
        self._journal = journal
        self._path = path
        self._begin()

    def _begin(self) -> None:
        self._operation = Operation()
        self._arrival = 0
        self._generation = self._journal.generation
        self._of_hive: dict[str, set[str]] = {}
        self._annexes: dict[str, dict[str, Record]] = {}
        self._records: dict[str, Record] = {}
        self._corrections: dict[str, dict[str, None]] = {}

    @classmethod
    def open(cls, journal: Journal, path: Path | None = None) -> Self:
        """Open the book of `journal`; states are kept at `path`, in memory where it is None.

        Deleting the file at `path` costs time, never truth.
        """
        book = cls(journal, path)
        book.refresh()
        return book

    def close(self) -> None:
        """Close the book; the journal stays open."""

    def refresh(self) -> frozenset[str]:
        """Take in what the journal gained; return the hives whose state was folded anew."""
        if self._journal.generation != self._generation:
            self._begin()
        records = []
        for arrival, record in self._journal.arrivals(self._arrival):
            self._arrival = arrival
            records.append(record)
            self._index(record)
        return self._operation.take(records)

    def _index(self, record: Record) -> None:
        if record.adds_to is not None:
            self._annexes.setdefault(record.adds_to, {})[record.id] = record
            return
        self._records[record.id] = record
        root = record.corrects or record.id
        if record.corrects is not None:
            self._corrections.setdefault(root, {})[record.id] = None
        for hive in hives_named(record):
            self._of_hive.setdefault(hive, set()).add(root)

    # Answers of one hive

    def hive(self, hive: str) -> HiveState:
        """Return what is known of a hive, by any of its ids; empty for one never recorded."""
        return self._operation.state(hive)

    def courses(self, hive: str, day: date) -> list[CourseView]:
        """Return the courses of a hive as they stand on `day`, newest first."""
        state = self.hive(hive)
        return [view(course, state, day) for course in reversed(state.courses)]

    def honey(self, hive: str, day: date) -> Honey:
        """Return whether honey may be taken from a hive and supers go on, and from when."""
        return honey(self.hive(hive), day)

    def items(self, hive: str, day: date) -> list[Item]:
        """Return what is to be done at a hive as seen on `day`, late first."""
        return hive_agenda(self.hive(hive), day)

    def history(self, hive: str) -> list[Entry]:
        """Return the records of a hive, newest first, corrections as corrections."""
        same = self._operation.shared.same
        roots: set[str] = set()
        for name in same.group("hive", hive):
            roots |= self._of_hive.get(name, set())
        entries = [entry for root in roots if (entry := self._entry(root)) is not None]
        entries.sort(key=lambda entry: record_key(entry.holds), reverse=True)
        return entries

    def _entry(self, root: str) -> Entry | None:
        found = self._operation.version(root) or self._version(root)
        if found is None:
            return None
        annexes = sorted(self._annexes.get(root, {}).values(), key=lambda r: (r.stamp, r.id))
        return Entry(found.root, found.holds, found.open, found.corrections, tuple(annexes))

    def _version(self, root: str) -> Version | None:
        """Return a root of a kind that no rule reads, such as a skipped hive, as it holds."""
        record = self._records.get(root)
        if record is None or record.corrects is not None:
            return None
        made = [self._records[each] for each in self._corrections.get(root, ())]
        return version(record, [each for each in made if each.kind == record.kind])

    # Answers of the operation

    def apiaries(self, day: date) -> list[Place]:
        """Return every apiary that was not given up, by name, with its hives living on `day`."""
        living: dict[str | None, int] = {}
        for state in self.states():
            if not state.ended and not _dead(state, day):
                living[state.apiary] = living.get(state.apiary, 0) + 1
        return [
            Place(*apiary[:7], living.get(apiary.id, 0))
            for apiary in self._operation.shared.apiaries()
            if not apiary.given_up
        ]

    def states(self) -> list[HiveState]:
        """Return the state of every hive, in the order of the walk, apiary by apiary."""
        states = [self._operation.state(hive) for hive in self._operation.hives]
        return sorted(states, key=_place_in_walk)

    def walk(self, apiary: str, day: date) -> list[Stop]:
        """Return the hives of an apiary as they stand on `day`, in the order of the walk.

        Those that are gone are left out, those whose colony is dead are not.
        """
        name = self._operation.shared.same.of("apiary", apiary)
        return [
            Stop(s.hive, s.number, s.stand, s.colony, _dead(s, day), s.ended)
            for s in self.states()
            if s.apiary == name and not s.ended
        ]

    def agenda(self, day: date) -> list[Line]:
        """Return what is to be done on `day`: a line an apiary, day and task, late first."""
        states = self.states()
        lines = grouped(item for state in states for item in hive_agenda(state, day))
        of_apiary: dict[str, list[HiveState]] = {}
        for state in states:
            if state.apiary is not None:
                of_apiary.setdefault(state.apiary, []).append(state)
        for apiary in self.apiaries(day):
            lines += monthly_count(apiary.id, of_apiary.get(apiary.id, []), day)
        return sorted(lines, key=line_order)

    def questions(self) -> list[Asked]:
        """Return what only the keeper can answer, hive by hive."""
        found = [asked(question, state) for state in self.states() for question in state.questions]
        for question in self._operation.heads():
            record = self._operation.root(question.records[0])
            state = self.hive(record.hive) if record is not None and record.hive else None
            found.append(asked(question, state))
        return found

    def terms(self) -> dict[str, Terms]:
        """Return the terms last recorded for each treatment, by identity."""
        return self._operation.shared.latest_terms()

    def plans(self) -> list[Plan]:
        """Return the keeper's own plans."""
        return self._operation.shared.plans()

    def periods(self) -> dict[str, Period]:
        """Return for each treatment the entered period that holds for every hive."""
        shared = self._operation.shared
        found = {}
        for treatment in shared.entered():
            holds = [e.period for e in shared.entries(treatment) if e.holds and not e.hive]
            if holds:
                found[treatment] = holds[-1]
        return found

    def lots(self) -> list[Lot]:
        """Return the lots of honey: what went into each, and why it is to be held."""
        takes: dict[str, list[tuple[str, str, date]]] = {}
        held: dict[str, list[Reason]] = {}
        for state in self.states():
            for drawn in state.drawn:
                day = as_date(drawn.day)
                takes.setdefault(drawn.lot, []).append((state.hive, drawn.mark, day))
                if drawn.held:
                    said = say("Hive {number}, drawn on {day}", number=state.number, day=day)
                    reason = Reason(said, (drawn.record, *drawn.held))
                    held.setdefault(drawn.lot, []).append(reason)
        return [Lot(lot, tuple(takes[lot]), tuple(held.get(lot, ()))) for lot in sorted(takes)]


def _dead(state: HiveState, day: date) -> bool:
    return state.dead is not None and state.dead <= day.toordinal()


def _place_in_walk(state: HiveState) -> tuple[str, float, int, str, str]:
    stand = state.stand if state.stand is not None else float("inf")
    digits = "".join(sign for sign in state.number if sign.isdigit())
    return (state.apiary or "", stand, int(digits or 0), state.number, state.hive)
