"""Builds the record book: picks years and apiary, and asks rules and ledger what they know."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.ledger import Ledger, Lot, Premises, ledger, required
from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.state import HiveState
from fieldapp.husbandry.vocabulary import WHY_OTHERWISE
from fieldapp.journal.corrections import Version, sort_out
from fieldapp.journal.record import Record
from fieldapp.journal.twice import aliases, twice
from fieldapp.papers import gaps
from fieldapp.papers.changes import changes, is_slip
from fieldapp.papers.model import (
    Disposed,
    Drawn,
    Event,
    HiveNow,
    Missing,
    RecordBook,
    Tally,
    Treated,
)
from fieldapp.papers.names import Names, key_of
from fieldapp.papers.register import REGISTER, events, moved
from fieldapp.papers.source import Source
from fieldapp.papers.treatments import Treatments
from fieldapp.words import say


def record_book(source: Source, day: date, apiary: str | None = None) -> RecordBook:
    """Return the record book as of `day`: five years, of one apiary (any of its ids) or of all.

    It needs no network and changes nothing. An apiary that nobody knows gives an empty book.
    """
    return _Building(source, day, apiary).book()


class _Building:
    def __init__(self, source: Source, day: date, apiary: str | None) -> None:
        self.source, self.day = source, day
        self.first = required.kept_from(day)
        sorted_out = sort_out(source.records)
        self.versions: Mapping[str, Version] = sorted_out.versions
        self.unfit = len(sorted_out.not_understood)
        self.ledger: Ledger = ledger(self.versions.values())
        self.names = Names(self.ledger.facts, self.versions.values())
        self.operation = Operation()
        self.operation.take(source.records)
        self.apiary = self.names.apiary_id(apiary) if apiary else None
        holding = [v.holds for v in self.versions.values() if not v.void]
        self.kinds: dict[str, list[Record]] = {}
        for record in sorted(holding, key=key_of):
            self.kinds.setdefault(record.kind, []).append(record)

    def book(self) -> RecordBook:
        doubled = self._doubled()
        changed = changes((v for v in self.versions.values() if self._shown(v.holds)), self.names)
        numbered = {change.record.id: change.number for change in changed}
        labels = {r.id: r.body.get("label", "") for r in self.kinds.get("terms", ())}
        why = {
            str(note.adds_to): note.body["words"]
            for note in self.kinds.get("note", ())
            if note.body["words"] in WHY_OTHERWISE
        }
        treatments = Treatments(
            self.operation, self.ledger, self.names, labels, numbered, doubled, why
        )
        treated = tuple(
            treatments.treated(record)
            for record in self._of("application")
            if record.id not in doubled
        )
        lots = self._lots(treated)
        return RecordBook(
            day=self.day,
            first=self.first,
            apiary=self.names.apiary(self.apiary) if self.apiary is not None else None,
            keepers=self.names.people(),
            premises=self._premises(),
            hives=tuple(self._hives()),
            treated=treated,
            lots=lots,
            disposed=tuple(self._disposed(lots)),
            drawn=tuple(self._drawn()),
            counts=events(self._of("count"), self.names),
            register=tuple(self._register()),
            periods=events(self._years("period"), self.names),
            changes=changed,
            gaps=tuple(self._gaps(treated, lots)),
            tally=self._tally(),
            heads=self.source.heads,
        )

    def _doubled(self) -> Mapping[str, str]:
        """Return the applications that were answered to be another one."""
        applications = self.kinds.get("application", [])
        answers = self.kinds.get("answer_twice", [])
        questions = twice(applications, answers, self.ledger.facts.same)
        return aliases(question for question in questions if question.answer is not None)

    # What is picked

    def _in_years(self, record: Record) -> bool:
        return record.day >= self.first.isoformat()

    def _here(self, record: Record) -> bool:
        """Whether a record belongs to the apiary of the book, or to none."""
        if self.apiary is None:
            return True
        place = self.names.apiary_of(record)
        return place in ("", self.apiary)

    def _shown(self, record: Record) -> bool:
        return self._in_years(record) and self._here(record)

    def _of(self, kind: str) -> list[Record]:
        return [record for record in self.kinds.get(kind, ()) if self._shown(record)]

    def _years(self, kind: str) -> list[Record]:
        return [record for record in self.kinds.get(kind, ()) if self._in_years(record)]

    # Parts

    def _premises(self) -> tuple[Premises, ...]:
        premises = self.ledger.register.premises
        return tuple(each for each in premises if self.apiary in (None, each.apiary))

    def _hives(self) -> Iterable[HiveNow]:
        states = [self.operation.state(hive) for hive in self.operation.hives]
        for state in sorted(states, key=lambda s: (self.names.apiary(s.apiary), _order(s.number))):
            if state.ended or self.apiary not in (None, state.apiary):
                continue
            dead = state.dead is not None and state.dead <= self.day.toordinal()
            yield HiveNow(
                self.names.apiary(state.apiary),
                state.number,
                honey(_still(state, self.day), self.day),
                any(exposure.open for exposure in state.exposures),
                dead,
            )

    def _lots(self, treated: Iterable[Treated]) -> tuple[Lot, ...]:
        """Return the lots of the years; for one apiary those that were used in it."""
        first = self.first.toordinal()
        kept = [
            lot
            for lot in self.ledger.stock.lots
            if lot.got >= self.first or any(each.key[0] >= first for each in lot.drawn)
        ]
        if self.apiary is None:
            return tuple(kept)
        used = {lot.id for each in treated for lot in each.lots}
        return tuple(lot for lot in kept if lot.id in used)

    def _disposed(self, lots: Iterable[Lot]) -> Iterable[Disposed]:
        known = {lot.id: lot for lot in lots}
        for record in self._years("disposed"):
            body = record.body
            if self.apiary is not None and body["lot"] not in known:
                continue
            yield Disposed(
                date.fromisoformat(record.day),
                known.get(body["lot"]),
                body["amount"],
                body["unit"],
                body.get("how", ""),
                body.get("where", ""),
                self.names.person(record.keeper),
                record.id,
            )

    def _drawn(self) -> Iterable[Drawn]:
        held: dict[tuple[str, str], list[str]] = {}
        for hive in self.operation.hives:
            state = self.operation.state(hive)
            for each in state.drawn:
                if each.held:
                    held.setdefault((each.lot, each.record), []).append(state.number)
        for record in self._years("harvest"):
            body, key = record.body, key_of(record)
            takes = [
                take
                for take in body["takes"]
                if self.apiary in (None, self.names.places.apiary(take["hive"], key))
            ]
            if not takes:
                continue
            hives = dict.fromkeys(self.names.hive(take["hive"], key) for take in takes)
            numbers = held.get((body["lot"], record.id), [])
            reasons = [say("hold: hive {number}", number=number) for number in numbers]
            yield Drawn(
                date.fromisoformat(record.day),
                body["lot"],
                tuple(sorted(hives, key=_order)),
                body.get("amount"),
                body.get("unit", ""),
                body.get("jars", ""),
                tuple(reasons),
                record.id,
            )

    def _register(self) -> list[Event]:
        found = list(events((r for kind in REGISTER for r in self._of(kind)), self.names))
        for movement in self.ledger.register.movements:
            if movement.day < self.first:
                continue
            if self.apiary in (None, movement.origin, movement.to):
                keeper = self.versions[movement.record].holds.keeper
                found.append(moved(movement, self.names, self.names.person(keeper)))
        return sorted(found, key=lambda each: (each.day, each.apiary, _order(each.hive)))

    def _gaps(self, treated: tuple[Treated, ...], lots: tuple[Lot, ...]) -> Iterable[Missing]:
        countries = [place.country for place in self._premises()]
        yield from gaps.of_ledger(self.ledger, treated, lots, self.day, countries, self._root_shown)
        yield from gaps.of_treatments(treated, self.day)
        yield from gaps.unanswered(self.operation, self._root_shown)
        yield from gaps.of_journal(self.source, self.unfit, self.kinds.get("loss", ()))

    def _root_shown(self, root: str) -> bool:
        version = self.versions.get(root)
        return version is not None and self._shown(version.holds)

    def _tally(self) -> Tally:
        shown = [v for v in self.versions.values() if self._shown(v.holds)]
        return Tally(
            records=len(shown),
            corrected=sum(1 for v in shown if v.corrections and not v.void),
            voided=sum(1 for v in shown if v.void),
            slips=sum(1 for v in shown if is_slip(v)),
            not_understood=self.source.not_understood + self.unfit,
            others=self.source.others,
        )


def _still(state: HiveState, day: date) -> HiveState:
    """Return a state whose closed days on `day` name only what still closes them then."""
    asked = day.toordinal()

    def closes(place: int) -> bool:
        last = state.causes[place].last
        return last is None or last >= asked

    rows = [
        row._replace(causes=tuple(filter(closes, row.causes)) or row.causes) for row in state.closed
    ]
    return state._replace(closed=tuple(rows))


def _order(number: str) -> tuple[int, str]:
    digits = "".join(sign for sign in number if sign.isdecimal())
    return (int(digits or 0), number)
