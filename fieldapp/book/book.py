"""The book: what every hive's records mean, kept current as the journal grows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date

from fieldapp.book import books_due
from fieldapp.book.answers import Asked, Entry, Lot, Place, Stop
from fieldapp.book.collecting import uncollected
from fieldapp.book.current import Current, or_anew
from fieldapp.book.questions import asked, same_asked
from fieldapp.book.sameness import alike
from fieldapp.book.sheet import Sheet, freeze
from fieldapp.book.supposing import supposed
from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.answers import Honey, Item, Line, Reason
from fieldapp.husbandry.days import as_date, record_key
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.lines import grouped, line_order, monthly_count
from fieldapp.husbandry.progress import CourseView, remarks, view
from fieldapp.husbandry.shared import Apiary
from fieldapp.husbandry.state import HiveState, Plan
from fieldapp.husbandry.terms import Period, Terms
from fieldapp.journal.annexes import annexes
from fieldapp.journal.corrections import versions
from fieldapp.journal.record import Draft, Record
from fieldapp.words import Phrase, say

#: Days of which a sheet is kept at a time: so long a phone may lie unused.
SHEETS_AHEAD = 8


class Book(Current):
    """Answers from one journal; made by `Book.open`. Use it from one thread at a time."""

    # Answers of one hive

    @or_anew
    def hive(self, hive: str) -> HiveState:
        """Return what is known of a hive, by any of its ids; empty for one never recorded."""
        return self._operation.state(hive)

    @or_anew
    def wake(self, hive: str) -> None:
        """Make the next record of a hive quick to take in; call it when nobody waits."""
        self._operation.wake(hive)

    def courses(self, hive: str, day: date) -> list[CourseView]:
        """Return the courses of a hive as they stand on `day`, newest first."""
        state = self.hive(hive)
        return [view(course, state, day) for course in reversed(state.courses)]

    def remarks(self, hive: str, application: str) -> list[Phrase]:
        """Return what the rules remark on an application (its root id) at a hive, in words."""
        return remarks(self.hive(hive), application)

    def honey(self, hive: str, day: date) -> Honey:
        """Return whether honey may be taken from a hive and supers go on, and from when."""
        return honey(self.hive(hive), day)

    def items(self, hive: str, day: date) -> list[Item]:
        """Return what is to be done at a hive as seen on `day`, late first."""
        return self._items_of(self.hive(hive), day)

    def _items_of(self, state: HiveState, day: date) -> list[Item]:
        """Return a hive's agenda, which stands as long as its state does."""
        known = self._items.get(state.hive)
        if known is None or known[0] is not state or known[1] != day:
            known = self._items[state.hive] = (state, day, hive_agenda(state, day))
        return known[2]

    @or_anew
    def history(self, hive: str, after: str = "", since: date | None = None) -> list[Entry]:
        """Return the records of a hive, newest first, corrections as corrections.

        With a stamp, only those of which the root was made `after` it; with a day, only those
        that hold of `since` or a later day.
        """
        name, day = self._operation.shared.hive(hive), since.isoformat() if since else ""
        if after or day:
            roots = self._keeping.roots_since(name, day, after)
        else:
            roots = self._keeping.roots_of(name)
        entries = [
            each
            for each in self._entries(sorted(roots))
            if each.root.stamp > after and each.holds.day >= day
        ]
        entries.sort(key=lambda entry: record_key(entry.holds), reverse=True)
        return entries

    @or_anew
    def corrections(self, roots: Iterable[str]) -> list[Record]:
        """Return every correction of these roots that was taken in."""
        return [each for root in roots for each in self._keeping.corrections(root)]

    @or_anew
    def entry(self, root: str) -> Entry | None:
        """Return one record by its root's id, with what corrects it or adds to it."""
        found = self._entries([root])
        return found[0] if found else None

    def _entries(self, roots: Sequence[str]) -> list[Entry]:
        """Return those of these roots that have arrived; all are asked for at once."""
        known = [each for root in roots if (each := self._operation.version(root)) is not None]
        others = set(roots).difference(each.root.id for each in known)
        if others:
            known += versions(self._keeping.families(sorted(others))).values()
        added = self._keeping.annexes([each.root.id for each in known])
        standing = annexes(added)
        withdrawn = annexes(each._replace(void=False) for each in added if each.void)
        return [
            Entry(
                v.root,
                v.holds,
                v.open,
                v.corrections,
                standing.get(v.root.id, ()),
                withdrawn.get(v.root.id, ()),
            )
            for v in known
        ]

    @or_anew
    @uncollected()
    def supposing(self, drafts: Sequence[Draft]) -> dict[str, HiveState]:
        """Return each hive that these drafts would touch, as it would be were they written now.

        Each draft has its id. Nothing of it is kept.
        """
        return supposed(self._apart(), drafts)

    # Answers of the operation

    def apiaries(self, day: date) -> list[Place]:
        """Return every apiary that was not given up, by name, with its hives living on `day`."""
        return self._places(self.states(day), day)

    def place(self, apiary: str) -> Apiary | None:
        """Return what is known of an apiary by any of its ids, of its hives nothing."""
        return self._operation.shared.apiary(self._operation.shared.same.of("apiary", apiary))

    def _places(self, states: Iterable[HiveState], day: date) -> list[Place]:
        living: dict[str | None, int] = {}
        for state in states:
            if state.lives(day.toordinal()):
                living[state.apiary] = living.get(state.apiary, 0) + 1
        return [
            Place(*apiary[:7], living.get(apiary.id, 0))
            for apiary in self._operation.shared.apiaries()
            if not apiary.given_up
        ]

    @or_anew
    @uncollected()
    def states(self, day: date | None = None) -> list[HiveState]:
        """Return the state of every hive, in the order of the walk, apiary by apiary.

        With a `day`, only as much of it as the agenda of that day needs.
        """
        operation = self._operation
        states = []
        asleep = set(operation.asleep)
        if day is not None and asleep:
            states += [kept for kept in self._recent(day) if kept.hive in asleep]
            states += [operation.state(hive) for hive in operation.hives if hive not in asleep]
        else:
            states = [operation.state(hive) for hive in operation.hives]
        return sorted(states, key=_place_in_walk)

    def walk(self, apiary: str, day: date) -> list[Stop]:
        """Return the hives of an apiary as they stand on `day`, in the order of the walk.

        Those that are gone are left out, those whose colony is dead are not.
        """
        name = self._operation.shared.same.of("apiary", apiary)
        return [
            Stop(s.hive, s.number, s.stand, s.colony, _dead(s, day), s.ended)
            for s in self.states(day)
            if s.apiary == name and not s.ended
        ]

    def agenda(self, day: date) -> list[Line]:
        """Return what is to be done on `day`: a line an apiary, day and task, late first."""
        return list(self.sheet(day).lines)

    def sheet(self, day: date) -> Sheet:
        """Return what the first page tells of `day`; it is remembered until records come."""
        if day not in self._sheets:
            states = self.states(day)
            places = self._places(states, day)
            walked = Counter(state.apiary for state in states if not state.ended)
            self._sheets[day] = Sheet(
                day,
                tuple(self._lines(states, places, day)),
                tuple(places),
                {place.id: walked[place.id] for place in places},
            )
        return self._sheets[day]

    def keep_sheets(self, day: date) -> None:
        """Keep the sheets of a day and some that follow, for starts that wait for no rules.

        Call it after `keep`, when nobody waits.
        """
        if not self._is_kept:
            return
        kept = self._keeping.sheet_days()
        ahead = (date.fromordinal(day.toordinal() + n) for n in range(SHEETS_AHEAD))
        missing = [each for each in ahead if each.toordinal() not in kept]
        made = [(each.toordinal(), freeze(self.sheet(each))) for each in missing]
        if made and self._is_kept:  # damage that was met meanwhile has it all made anew
            self._keeping.keep_sheets(made)

    def _lines(self, states: list[HiveState], places: list[Place], day: date) -> list[Line]:
        lines = grouped(item for state in states for item in self._items_of(state, day))
        of_apiary: dict[str, list[HiveState]] = {}
        for state in states:
            if state.apiary is not None:
                of_apiary.setdefault(state.apiary, []).append(state)
        for place in places:
            lines += monthly_count(place.id, of_apiary.get(place.id, []), day)
        lines += books_due.lines(
            self._shelf.ledger(),
            day,
            places=places,
            states=states,
            terms=self.terms(),
            whole=self.hive,
            entry=self.entry,
        )
        return sorted(lines, key=line_order)

    def questions(self) -> list[Asked]:
        """Return what only the keeper can answer: what is one and what two, then hive by hive."""
        states, shared = self.states(), self._operation.shared
        places = self._places((), date.min)
        found = [
            same_asked(each, places)
            for each in alike(
                places, states, self._shelf.keepers(), shared.same, shared.told_apart()
            )
        ]
        found += [asked(question, state) for state in states for question in state.questions]
        for question in self._operation.heads():
            record = self._journal.by_id(question.records[0])
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
