"""Lots and batches: what came in, what went, what is left, and where the books do not fit."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, NamedTuple

from fieldapp.husbandry.amounts import units
from fieldapp.husbandry.days import Key, as_date, ordinal
from fieldapp.husbandry.ledger.drawing import Drawing, drawings
from fieldapp.husbandry.ledger.facts import Fact, Facts
from fieldapp.husbandry.ledger.gap import Gap
from fieldapp.husbandry.ledger.units import ROUNDING, tidy, told_in
from fieldapp.journal.record import Record
from fieldapp.words import Phrase, say


class Counted(NamedTuple):
    """Stock counted: when, what was there (in the lot's unit), what the books had said."""

    key: Key
    amount: float
    expected: float


class Lot(NamedTuple):
    """A bought lot or a mixed batch, and its balance in its own `unit`.

    `on_hand` is what the books say is left, from the last count on where there is one. Where
    `unknown` things were taken since without a known amount it is at most that. `last_day` is
    the last day on which it may be used, None where that is not known.
    """

    record: Record
    product: str
    unit: str
    amount: float
    last_day: date | None
    used: float
    disposed: float
    on_hand: float
    unknown: int
    counted: Counted | None
    drawn: tuple[Drawing, ...]
    gaps: tuple[Gap, ...]

    @property
    def id(self) -> str:
        """The root's id."""
        return self.record.id

    @property
    def mixed(self) -> bool:
        """Whether it is a batch; else it was bought."""
        return self.record.kind == "batch"

    @property
    def number(self) -> str:
        """The lot's number on the packet, empty where it is not known or a batch."""
        return str(self.record.body.get("lot", ""))

    @property
    def treatment(self) -> str:
        """The treatment it is for, empty where that is not known."""
        return str(self.record.body.get("treatment", ""))

    @property
    def got(self) -> date:
        """The day on which it was bought or mixed."""
        return date.fromisoformat(self.record.day)

    @property
    def left(self) -> bool:
        """Whether any of it is, or may be, on hand."""
        return self.on_hand > ROUNDING * max(self.amount, 1)

    @property
    def name(self) -> Phrase:
        """What it is called: *thymol sponge, lot 22*; *trickle, mixed 5 Dec 2026*."""
        if self.mixed:
            return say("{product}, mixed {day}", product=self.product, day=self.got)
        if self.number:
            return say("{product}, lot {lot}", product=self.product, lot=self.number)
        return say("{product}, lot not known", product=self.product)

    @property
    def balance(self) -> Phrase:
        """The balance in words: *2 strips on hand: bought 20, used 16, disposed 2*."""
        figures: dict[str, Any] = {
            "got": float(self.amount),
            "used": self.used,
            "disposed": self.disposed,
            "left": self.on_hand,
            "unit": units(self.unit, self.on_hand),
        }
        if self.mixed:
            said = say(
                "{left} {unit} on hand: mixed {got}, used {used}, disposed {disposed}", **figures
            )
        else:
            said = say(
                "{left} {unit} on hand: bought {got}, used {used}, disposed {disposed}", **figures
            )
        if self.unknown:
            return say("{balance}, at most: not every use has its amount", balance=said)
        return said


class Stock(NamedTuple):
    """All lots, oldest first, and what names lots that are not here."""

    lots: tuple[Lot, ...]
    astray: tuple[Gap, ...]

    def lot(self, root: str) -> Lot | None:
        """Return a lot by its root's id."""
        return next((lot for lot in self.lots if lot.id == root), None)

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """Every gap, lot by lot."""
        return (*(gap for lot in self.lots for gap in lot.gaps), *self.astray)


def stock(facts: Facts) -> Stock:
    """Return the balance of every lot and batch."""
    taken: defaultdict[str, list[Drawing]] = defaultdict(list)
    for drawing in drawings(facts):
        taken[drawing.lot].append(drawing)
    counts: defaultdict[str, list[Fact]] = defaultdict(list)
    for fact in facts.kind("on_hand"):
        counts[fact.record.body["lot"]].append(fact)
    got = sorted((*facts.kind("bought"), *facts.kind("batch")))
    lots = tuple(_lot(fact, taken.pop(fact.id, []), counts.pop(fact.id, [])) for fact in got)
    astray = [drawing.record for each in taken.values() for drawing in each]
    astray += [fact.id for each in counts.values() for fact in each]
    named = tuple(
        Gap("lot", say("names a lot that is not in the books"), (root,)) for root in sorted(astray)
    )
    return Stock(lots, named)


def behind(application: Record, lots: Mapping[str, Lot]) -> tuple[Lot, ...]:
    """Return the lots behind an application: those it drew on, and through its batch.

    `lots` are all lots by their roots' ids.
    """
    body = application.body
    roots = [each["lot"] for each in body.get("drawn", ())]
    roots += [body["batch"]] if "batch" in body else []
    found: dict[str, Lot] = {}
    while roots:
        lot = lots.get(roots.pop(0))
        if lot is not None and lot.id not in found:
            found[lot.id] = lot
            roots += [each["lot"] for each in lot.record.body.get("drawn", ())]
    return tuple(found.values())


class _Books:
    """One lot's account while its records are gone through in order."""

    def __init__(self, fact: Fact) -> None:
        body = fact.record.body
        self.unit: str = body["unit"]
        self.begins = fact.key
        self.last_day = _last_day(body)
        self.left = float(body["amount"])
        self.scale = max(self.left, 1.0)
        self.used = self.disposed = 0.0
        self.unknown = 0
        self.counted: Counted | None = None
        self.gaps: list[Gap] = []
        self.over = False

    def take(self, drawing: Drawing) -> None:
        """Take a drawing off."""
        if drawing.key < self.begins:
            self._gap("before", say("taken before it was bought or mixed"), drawing.record)
        if (
            self.last_day is not None
            and drawing.by != "disposed"
            and drawing.key[0] > self.last_day
        ):
            last = as_date(self.last_day)
            self._gap("expired", say("used after its last day, {last}", last=last), drawing.record)
        amount = self._amount(drawing)
        if amount is None:
            self.unknown += 1
            return
        if drawing.by == "disposed":
            self.disposed += amount
        else:
            self.used += amount
        self.left -= amount
        if self.left < -ROUNDING * self.scale and not self.over:
            self.over = True
            self._gap("over", say("more was taken than there was"), drawing.record)

    def count(self, fact: Fact) -> None:
        """Take a count in: from here on it is what is there, and a difference has a name."""
        body = fact.record.body
        amount = told_in(body["amount"], body["unit"], self.unit)
        if amount is None:
            said = say(
                "counted in {unit}, kept in {kept}: not comparable",
                unit=units(body["unit"]),
                kept=units(self.unit),
            )
            self._gap("unit", said, fact.id)
            return
        expected = tidy(self.left)
        difference = tidy(amount - self.left)
        self.counted = Counted(fact.key, tidy(amount), expected)
        if abs(difference) > ROUNDING * self.scale:
            self._gap("difference", self._difference(amount, expected), fact.id)
        self.left, self.unknown, self.over = amount, 0, False

    def _difference(self, amount: float, expected: float) -> Phrase:
        figures: dict[str, Any] = {
            "counted": tidy(amount),
            "expected": expected,
            "unit": units(self.unit),
            "n": tidy(abs(amount - expected)),
        }
        if self.unknown:
            return say(
                "counted {counted}, the books say at most {expected} ({unit}): "
                "not every use has its amount",
                **figures,
            )
        if amount < expected:
            return say(
                "counted {counted}, the books say {expected} ({unit}): {n} missing", **figures
            )
        return say("counted {counted}, the books say {expected} ({unit}): {n} too many", **figures)

    def _amount(self, drawing: Drawing) -> float | None:
        if drawing.of:
            said = say("the dose is said of {of}, not of what the lot holds", of=drawing.of)
            self._gap("unit", said, drawing.record)
            return None
        if drawing.amount is None:
            self._gap("amount", say("taken from the lot: how much is not known"), drawing.record)
            return None
        amount = told_in(drawing.amount, drawing.unit, self.unit)
        if amount is None:
            said = say(
                "taken in {unit}, kept in {kept}: not comparable",
                unit=units(drawing.unit),
                kept=units(self.unit),
            )
            self._gap("unit", said, drawing.record)
        return amount

    def _gap(self, what: str, phrase: Phrase, record: str) -> None:
        for place, gap in enumerate(self.gaps):
            if (gap.what, gap.phrase) == (what, phrase):
                self.gaps[place] = gap._replace(records=(*gap.records, record))
                return
        self.gaps.append(Gap(what, phrase, (record,)))


def _lot(fact: Fact, taken: Iterable[Drawing], counts: Iterable[Fact]) -> Lot:
    books = _Books(fact)
    drawn = tuple(taken)
    events: list[Drawing | Fact] = [*drawn, *counts]
    for event in sorted(events, key=lambda event: event.key):
        if isinstance(event, Drawing):
            books.take(event)
        else:
            books.count(event)
    body = fact.record.body
    return Lot(
        record=fact.record,
        product=body.get("product") or body["recipe"],
        unit=books.unit,
        amount=float(body["amount"]),
        last_day=as_date(books.last_day) if books.last_day is not None else None,
        used=tidy(books.used),
        disposed=tidy(books.disposed),
        on_hand=tidy(books.left),
        unknown=books.unknown,
        counted=books.counted,
        drawn=drawn,
        gaps=tuple(books.gaps),
    )


def _last_day(body: Mapping[str, Any]) -> int | None:
    text = body.get("expiry") or body.get("keep_until")
    return ordinal(text) if text else None
