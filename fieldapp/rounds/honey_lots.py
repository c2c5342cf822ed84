"""Lots of honey: what each holds, of which hives, treated when; and which are to be held, why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.honey import reason_of
from fieldapp.husbandry.state import Drawn, HiveState
from fieldapp.journal import happened
from fieldapp.journal.called import kind_called
from fieldapp.journal.record import Record
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Sign
from fieldapp.words import Phrase, count, say

#: Days before honey was drawn in which a treatment of its hive is told of.
TOLD_BACK = 366


class HoneyLot(NamedTuple):
    """A lot of honey as a list shows it."""

    mark: str
    sign: Sign
    words: Phrase
    told: Phrase


class Part(NamedTuple):
    """One super (or the supers of a hive) in a lot, and all that bears on it."""

    root: str
    hive: str
    sign: Sign
    words: Phrase
    held: tuple[Phrase, ...]
    treated: tuple[Phrase, ...]


class HoneyLots:
    """The lots of honey as they stand today, from the records of every hive."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self._of: dict[str, list[tuple[HiveState, Drawn]]] = {}
        self._known: set[tuple[str, str]] = set()
        for state in notebook.book.states():
            self._known |= {(each.mark, each.of_hive or "") for each in state.supers}
            for drawn in state.drawn:
                self._of.setdefault(drawn.lot, []).append((state, drawn))

    def all(self) -> list[HoneyLot]:
        """Return every lot: those to hold first, then the latest."""
        lots = [(self._line(mark), self._day(mark)) for mark in self._of]
        lots.sort(key=lambda pair: (_ORDER[pair[0].sign], -pair[1].toordinal(), pair[0].mark))
        return [line for line, _ in lots]

    def of_hive(self, hive: str) -> list[HoneyLot]:
        """Return the lots that honey of a hive went into."""
        return [
            line
            for line in self.all()
            if any(state.hive == hive for state, _ in self._of[line.mark])
        ]

    def parts(self, mark: str) -> list[Part]:
        """Return what a lot holds: what is to be held first, then by hive."""
        found = [self._part(state, drawn) for state, drawn in self._of.get(mark, ())]
        return sorted(found, key=lambda part: _ORDER[part.sign])

    def amounts(self, mark: str) -> list[Phrase]:
        """Return how much was drawn into a lot, day by day, and where it went."""
        roots = dict.fromkeys(drawn.record for _, drawn in self._of.get(mark, ()))
        return [words for root in roots for words in self._drawn(root)]

    def roots(self, mark: str) -> list[str]:
        """Return the records that made a lot."""
        return list(dict.fromkeys(drawn.record for _, drawn in self._of.get(mark, ())))

    def sign(self, mark: str) -> Sign:
        """Return the worst that is known of a lot."""
        return min(
            (part.sign for part in self.parts(mark)), key=_ORDER.__getitem__, default="quiet"
        )

    def _line(self, mark: str) -> HoneyLot:
        sign = self.sign(mark)
        hives = len({state.hive for state, _ in self._of[mark]})
        words = count("Lot {mark}: {n} hive", "Lot {mark}: {n} hives", hives, mark=mark)
        return HoneyLot(
            mark, sign, words, say("{says}, drawn {day}", says=SAYS[sign], day=self._day(mark))
        )

    def _day(self, mark: str) -> date:
        return as_date(max(drawn.day for _, drawn in self._of[mark]))

    def _part(self, state: HiveState, drawn: Drawn) -> Part:
        day = as_date(drawn.day)
        words = (
            say("Hive {number}, super {mark}, {day}", number=state.number, mark=drawn.mark, day=day)
            if drawn.mark
            else say("Hive {number}, its supers, {day}", number=state.number, day=day)
        )
        held = tuple(self._why(state, drawn))
        sign: Sign = "quiet"
        if held:
            sign = "unknown" if self._not_known(state, drawn) else "closed"
        elif (drawn.mark, "" if drawn.mark else state.hive) not in self._known:
            sign, held = "unknown", (say("No such super was ever on record."),)
        return Part(drawn.record, state.hive, sign, words, held, tuple(_treated(state, drawn)))

    def _not_known(self, state: HiveState, drawn: Drawn) -> bool:
        """Whether all that holds it is that nobody knows."""
        causes = [
            c for c in state.causes if c.record in drawn.held and _closes(c.first, c.last, drawn)
        ]
        named = {cause.record for cause in causes}
        asked = all(cause.last is None and cause.why in ("period", "answer") for cause in causes)
        sure = any(each.certain for each in state.supers if set(each.records) & set(drawn.held))
        return asked and not sure and named == set(drawn.held)

    def _why(self, state: HiveState, drawn: Drawn) -> Iterator[Phrase]:
        """Return why a part is to be held, each with when that was written down, if after it."""
        for root in drawn.held:
            causes = [
                cause
                for cause in state.causes
                if cause.record == root and _closes(cause.first, cause.last, drawn)
            ]
            said = [reason_of(state, cause).phrase for cause in causes]
            for words in dict.fromkeys(said) or [self._touched(root)]:
                later = self._later(root, drawn.record)
                yield words if later is None else say("{why} {later}", why=words, later=later)

    def _touched(self, root: str) -> Phrase:
        """Return what exposed a super, from the record that says so."""
        entry = self._notebook.book.entry(root)
        if entry is None:
            return say("A record that is not here says so.")
        held = entry.holds
        name = kind_called(held.kind)
        treatment = self._named(held)
        what = say("{what}: {name}", what=name, name=treatment) if treatment else name
        number = self._notebook.book.hive(held.hive).number if held.hive else ""
        return say(
            "The super was exposed: {what}, hive {number}, {day}.",
            what=what,
            number=number,
            day=happened.civil(held.happened),
        )

    def _named(self, record: Record) -> str:
        treatment = record.body.get("treatment")
        terms = self._notebook.book.terms().get(str(treatment)) if treatment else None
        return terms.name if terms is not None else ""

    def _later(self, root: str, harvest: str) -> Phrase | None:
        """Return when a reason was written down as it stands, where the honey was before."""
        why, drawn = self._notebook.book.entry(root), self._notebook.journal.by_id(harvest)
        if why is None or drawn is None:
            return None
        made = (why.root, *why.corrections)[-1]
        if made.stamp <= drawn.stamp:
            return None
        zone = self._notebook.zone_of(made.apiary)
        written = happened.format(int(made.stamp[:12], 16) * 1000, zone)
        return say("(Written down {day}, after the honey.)", day=happened.civil(written))

    def _drawn(self, root: str) -> Iterator[Phrase]:
        entry = self._notebook.book.entry(root)
        if entry is None:
            return
        body, day = entry.holds.body, happened.civil(entry.holds.happened)
        if "amount" in body:
            unit = body.get("unit", "")
            yield say("{day}: {amount} {unit}", day=day, amount=float(body["amount"]), unit=unit)
        else:
            yield say("{day}: how much is not known", day=day)
        if "jars" in body:
            yield say("Went to: {where}", where=body["jars"])


_ORDER: dict[Sign, int] = {"late": 0, "closed": 1, "unknown": 2, "due": 3, "done": 4, "quiet": 5}
#: What is said of a lot by its sign; that nothing is on record is not that it is free of it.
SAYS: dict[Sign, Phrase] = {
    "closed": say("hold it"),
    "unknown": say("not known: hold it until it is"),
    "quiet": say("nothing on record against it"),
}


def _closes(first: int, last: int | None, drawn: Drawn) -> bool:
    return first <= drawn.day and (last is None or drawn.day <= last)


def _treated(state: HiveState, drawn: Drawn) -> Iterable[Phrase]:
    """Return the treatments of a hive before honey was drawn, the latest first."""
    days = {
        (dose.day, state.terms[dose.terms].name if dose.terms in state.terms else course.treatment)
        for course in state.courses
        for dose in course.doses
        if drawn.day - TOLD_BACK <= dose.day <= drawn.day
    }
    found = [
        say("{name}: {day}", name=name, day=as_date(day))
        for day, name in sorted(days, reverse=True)
    ]
    return found or [say("no treatment on record in the year before")]
