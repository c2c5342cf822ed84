"""What is on hand, lot by lot: until when, what came and went, and where it does not add up."""

from __future__ import annotations

from datetime import timedelta
from typing import NamedTuple

from fieldapp.husbandry.amounts import measured
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.ledger.drawing import Drawing
from fieldapp.husbandry.ledger.due import AHEAD
from fieldapp.husbandry.spoken import spoken
from fieldapp.rounds.due import SIGNS
from fieldapp.rounds.hive_words import fields_of
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, say

#: Lines of the agenda that the books ask for and that stand on the page of the stock.
_ASKED = frozenset({"buy", "records"})
#: What a lot needs first: past its day, soon past it, not known, in order.
_ORDER: dict[Sign, int] = {"late": 0, "due": 1, "unknown": 2, "done": 3}
#: Fields of a purchase or batch that its page says elsewhere.
_SAID = frozenset({"product", "recipe", "amount", "unit", "lot", "expiry", "keep_until", "steps"})


class LotLine(NamedTuple):
    """A lot as a list shows it: its name, its balance, until when it may be used, its gaps."""

    id: str
    sign: Sign
    name: Phrase
    balance: Phrase
    first: tuple[Told, ...]


class Gone(NamedTuple):
    """Something that was taken from a lot: the record, the hive (empty: none) and the words."""

    root: str
    hive: str
    words: Phrase


class Stock:
    """The lots of the operation as they stand today."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self._today = notebook.today()
        self._ledger = notebook.shelf.ledger()

    def on_hand(self) -> list[LotLine]:
        """Return the lots of which something is, or may be, left; what is urgent first."""
        lines = [(self.line(lot), lot) for lot in self._ledger.stock.lots if self._shown(lot)]
        lines.sort(key=lambda pair: (_ORDER[pair[0].sign], pair[1].last_day or self._today))
        return [line for line, _ in lines]

    def over(self) -> list[LotLine]:
        """Return the lots that are used up and add up, the latest first."""
        lots = reversed(self._ledger.stock.lots)
        return [self.line(lot)._replace(sign="quiet") for lot in lots if not self._shown(lot)]

    def _shown(self, lot: Lot) -> bool:
        """Whether a lot is asked after: some is left, or more was taken than there was."""
        return lot.left or lot.on_hand < 0 or bool(lot.unknown)

    def astray(self) -> list[Told]:
        """Return what names lots that are not in the books."""
        return [Told("unknown", gap.phrase) for gap in self._ledger.stock.astray]

    def asked(self) -> list[Told]:
        """Return what is to be bought for what is planned, and what the record book lacks."""
        names = {place.id: place.name for place in self._notebook.book.apiaries(self._today)}
        found = []
        for line in self._notebook.book.agenda(self._today):
            if line.task in _ASKED:
                said = spoken(line, names, self._today)
                found.append(Told(SIGNS[line.timing], said.what, (said.when, *said.why)))
        return found

    def lot(self, root: str) -> Lot | None:
        """Return a lot by its root's id."""
        return self._ledger.stock.lot(root)

    def line(self, lot: Lot) -> LotLine:
        """Return a lot: its sign is the worst of what there is to say of it."""
        first = [self._until(lot), *(Told("unknown", gap.phrase) for gap in lot.gaps)]
        sign = min((told.sign for told in first), key=_ORDER.__getitem__)
        return LotLine(lot.id, sign, lot.name, lot.balance, tuple(first))

    def _until(self, lot: Lot) -> Told:
        last = lot.last_day
        if last is None:
            return Told("unknown", say("last day not known"))
        if self._today > last:
            return Told("late", say("past its last day, {day}: do not use", day=last))
        soon = self._today >= last - timedelta(days=AHEAD)
        return Told("due" if soon else "done", say("use up by {day}", day=last))

    def facts(self, lot: Lot) -> list[Phrase]:
        """Return what else was written down of a lot, field by field."""
        got = say("mixed {day}", day=lot.got) if lot.mixed else say("bought {day}", day=lot.got)
        fields = fields_of(self._notebook, lot.record)
        return [got, *(phrase for name, phrase in fields.items() if name not in _SAID)]

    def gone(self, lot: Lot) -> list[Gone]:
        """Return what was taken from a lot and counted of it, the latest first."""
        found = [(each.key, self._gone(each)) for each in lot.drawn]
        for fact in self._ledger.facts.kind("on_hand"):
            body = fact.record.body
            if body["lot"] == lot.id:
                words = say(
                    "{day}: counted {amount}",
                    day=as_date(fact.day),
                    amount=measured(float(body["amount"]), body["unit"]),
                )
                found.append((fact.key, Gone(fact.id, "", words)))
        return [gone for _, gone in sorted(found, key=lambda pair: pair[0], reverse=True)]

    def _gone(self, drawing: Drawing) -> Gone:
        day = as_date(drawing.key[0])
        amount = (
            measured(float(drawing.amount), drawing.unit)
            if drawing.amount is not None
            else say("amount not known")
        )
        if drawing.by == "batch":
            words = say("{day}: {amount} into a batch", day=day, amount=amount)
        elif drawing.by == "disposed":
            words = say("{day}: {amount} disposed of", day=day, amount=amount)
        else:
            number = self._notebook.book.hive(drawing.hive).number
            words = say("{day}: {amount}, hive {number}", day=day, amount=amount, number=number)
        return Gone(drawing.record, drawing.hive, words)
