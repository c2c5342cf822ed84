"""An apiary as its register has it: where it stands with the office, and what happened there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fieldapp.husbandry.ledger import COUNTED, COUNTED_WITHIN, Blocked
from fieldapp.husbandry.ledger import Premises as Registered
from fieldapp.journal.record import Record
from fieldapp.papers.names import Names
from fieldapp.papers.register import event, moved
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, say


class Line(NamedTuple):
    """One thing that happened at an apiary: the record, its day, what it was, and particulars."""

    root: str
    day: date
    what: Phrase
    words: Phrase

    @property
    def told(self) -> Phrase:
        """The line in words."""
        return say("{day}: {what}", day=self.day, what=self.what)


class Premises:
    """What the records say of one apiary today."""

    def __init__(self, notebook: Notebook, apiary: str) -> None:
        self._notebook = notebook
        self.apiary = apiary
        self._register = notebook.shelf.ledger().register
        self._registered: Registered | None = self._register.of(apiary)

    @property
    def name(self) -> str:
        """What the keeper calls it."""
        return self._notebook.place_name(self.apiary)

    @property
    def living(self) -> int:
        """How many hives there have a living colony by the records."""
        stops = self._notebook.book.walk(self.apiary, self._today)
        book, day = self._notebook.book, self._today.toordinal()
        return sum(book.hive(stop.hive).lives(day) for stop in stops)

    @property
    def standstill(self) -> Blocked | None:
        """The standstill that is on today, if there is one."""
        return self._register.blocked(self.apiary, self._today)

    def told(self) -> list[Told]:
        """Return how it stands: a standstill first, then registration, count and visit."""
        found = []
        blocked = self.standstill
        if blocked is not None:
            found.append(Told("late", blocked.reason.phrase))
        registered = self._registered
        if registered is None or not registered.registration:
            found.append(Told("unknown", say("Registration number: not known")))
        else:
            number = registered.registration
            found.append(Told("done", say("Registration number: {number}", number=number)))
        found.append(self._counted(registered.counts if registered else ()))
        found.append(self._visited(registered.visits if registered else ()))
        return found

    def _counted(self, counts: Sequence[Record]) -> Told:
        if not counts:
            return Told("unknown", say("Colonies: never counted for the register"))
        last = counts[-1]
        number, day = last.body["number"], date.fromisoformat(last.day)
        said = count(
            "{n} colony counted on {day}", "{n} colonies counted on {day}", number, day=day
        )
        whom = self.reported_to(last)
        if whom is None:
            return Told("quiet", say("{counted}, no report on record", counted=said))
        return Told("done", say("{counted}, reported to {whom}", counted=said, whom=whom))

    def _visited(self, visits: Sequence[Record]) -> Told:
        if not visits:
            return Told("quiet", say("No inspector's visit on record"))
        last = visits[-1]
        day = date.fromisoformat(last.day)
        return Told("quiet", say("Last visit: {day}, {who}", day=day, who=last.body["by"]))

    def reported_to(self, record: Record) -> str | None:
        """Return to whom a count was reported, None where no record says so."""
        if "reported_to" in record.body:
            return str(record.body["reported_to"])
        for fact in self._notebook.shelf.ledger().facts.kind("reported"):
            if record.id in fact.record.body["records"]:
                return str(fact.record.body["to"])
        return None

    def unreported(self) -> list[Record]:
        """Return the counts that nobody reported, the latest first.

        Of colonies everywhere; of mites where a law wants those reported, and of a year back.
        """
        if self._registered is None:
            return []
        counts = list(self._registered.counts)
        if self._registered.country in COUNTED:
            counts += self._mites()
        counts.sort(key=lambda each: each.happened, reverse=True)
        return [each for each in counts if self.reported_to(each) is None]

    def _mites(self) -> list[Record]:
        book, since = self._notebook.book, self._today - timedelta(days=COUNTED_WITHIN)
        return [
            entry.holds
            for stop in book.walk(self.apiary, self._today)
            for entry in book.history(stop.hive)
            if entry.root.kind == "count" and not entry.void and entry.holds.day >= str(since)
        ]

    def lines(self) -> list[Line]:
        """Return movements, counts and visits, the latest first."""
        registered = self._registered
        if registered is None:
            return []
        names = Names(self._notebook.shelf.ledger().facts, ())
        events = [event(each, names) for each in (*registered.counts, *registered.visits)]
        events += [moved(each, names, "") for each in registered.movements]
        found = [
            Line(each.record, each.day, _of_hive(each.what, each.hive), each.words)
            for each in events
        ]
        return sorted(found, key=lambda line: (line.day, line.root), reverse=True)

    @property
    def _today(self) -> date:
        return self._notebook.today(self.apiary)


def _of_hive(what: Phrase, number: str) -> Phrase:
    return say("{what}, hive {number}", what=what, number=number) if number else what
