"""A round: one walk through an apiary, hive by hive, each tap saved before it is answered.

Where the round stands is never kept beside the records: it is read back from them, so a
phone that dies in the middle goes on where it was.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal, NamedTuple

from fieldapp.husbandry.amounts import measured
from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.amounts import NOT_SAID, Amount
from fieldapp.rounds.cautions import supers_on
from fieldapp.rounds.look_pieces import PiecesByNumber
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.pen import Pen
from fieldapp.rounds.spots import WHY, Mark, Spot, read_spot
from fieldapp.rounds.taking import last_counted
from fieldapp.words import Phrase, count, say

Task = Literal["treat", "pieces"]

#: Seconds after a tap during which *undo* and *not like that* stand on the screen.
UNDO_S = 12.0


class Tapped(NamedTuple):
    """The last thing done in the round, while it can still be taken back."""

    hive: str
    number: str
    did: Phrase
    at: float
    mark: Mark = "done"

    @property
    def ends(self) -> float:
        """The moment (monotonic seconds) after which it stands no longer on the screen."""
        return self.at + UNDO_S


class Round:
    """One round under way. Make it with `begin` or `resume`."""

    def __init__(self, notebook: Notebook, record: Record) -> None:
        self._notebook = notebook
        self._record = record
        self.id = record.id
        self.apiary = record.apiary or ""
        self.treatment: str | None = record.body.get("treatment")
        self.task: Task = "pieces" if record.body["task"] == "pieces" else "treat"
        self._amount = _kept_amount(notebook, record.id)
        self._last: Tapped | None = None
        terms = notebook.book.terms().get(self.treatment or "")
        self.name = terms.name if terms is not None else ""
        self._pen = Pen(
            notebook,
            record,
            terms.id if terms is not None else "",
            self._amount,
            _kept_lot(notebook, record),
        )
        self._numbers = {
            stop.hive: stop.number for stop in notebook.book.walk(self.apiary, self._day)
        }
        self._spots = [self._read(hive) for hive in record.body["hives"]]

    # -- where the walk stands

    @property
    def place(self) -> str:
        """The name of the apiary."""
        return self._notebook.place_name(self.apiary)

    @property
    def spots(self) -> Sequence[Spot]:
        """The hives in walk order."""
        return self._spots

    @property
    def next(self) -> Spot | None:
        """The next open hive, in walk order after the last one tapped, then from the start.

        None when every hive was done or skipped.
        """
        spots = list(self._spots)
        start = 0
        if self._last is not None:
            start = 1 + [spot.hive for spot in spots].index(self._last.hive)
        for spot in spots[start:] + spots[:start]:
            if spot.mark == "open":
                return spot
        return None

    @property
    def passed(self) -> int:
        """How many hives were done or skipped."""
        return sum(spot.mark != "open" for spot in self._spots)

    @property
    def last(self) -> Tapped | None:
        """The last tap, for some seconds after it."""
        now = self._notebook.clock.monotonic()
        return self._last if self._last is not None and now <= self._last.ends else None

    def spot(self, hive: str) -> Spot:
        """Return one hive of the walk."""
        return next(spot for spot in self._spots if spot.hive == hive)

    def gets(self, hive: str) -> Phrase:
        """Return what a hive gets in this round, as its field says it."""
        if self.task == "pieces":
            pieces = self._pen.pieces_in(hive)
            if pieces is None:
                return say("pieces out")
            return count("{n} piece out", "{n} pieces out", pieces)
        return self._amount.phrase(self.last_counted(hive))

    @property
    def counts(self) -> str:
        """What the keeper counts at each hive, for its dose follows from it; empty: nothing."""
        return self._amount.per if self.task == "treat" and self._amount.counted else ""

    def last_counted(self, hive: str) -> float | None:
        """Return how many of the dose's basis a hive had last, None where nobody looked."""
        return last_counted(self._notebook, hive, self._amount.per)

    def warning(self, hive: str) -> Phrase | None:
        """Return what must be done first at this hive."""
        if self.task == "treat" and supers_on(self._state(hive)):
            return say("Supers on: take them off first")
        return None

    # -- taps

    def tap(self, hive: str, counted: float | None = None) -> Tapped:
        """Log the hive as done now, with what was counted. One already done is left as it is."""
        spot = self.spot(hive)
        if spot.mark == "done":
            return self._answer(spot, say("Hive {number} was already done", number=spot.number))
        if self.task == "pieces":
            drafts = self._pen.removal(hive)
        else:
            number = counted if counted is not None else self.last_counted(hive)
            drafts = self._pen.application(hive, number)
        self._write([*self._pen.taken_back(spot), *drafts])
        return self._answer(spot, say("Hive {number} done", number=spot.number))

    def undo(self) -> Tapped | None:
        """Take the last tap back: its record is voided as a slip, and the hive is next again."""
        if self._last is None:
            return None
        spot = self.spot(self._last.hive)
        if spot.mark == "open":
            return None
        self._write(self._pen.taken_back(spot))
        before = self._spots.index(self.spot(spot.hive))
        self._answer(spot, say("Hive {number}: taken back", number=spot.number))
        told = self._last
        previous = self._spots[before - 1]
        self._last = Tapped(previous.hive, previous.number, told.did, float("-inf"))
        return told

    def skip(self, hive: str, why: str) -> Tapped:
        """Log that a hive was not done, and why; what was logged for it is voided as a slip."""
        spot = self.spot(hive)
        self._write([*self._pen.taken_back(spot), *self._pen.skipped(hive, why)])
        return self._answer(
            spot,
            say("Hive {number} not done: {why}", number=spot.number, why=WHY[why]),
        )

    def supers_found_on(self, hive: str) -> Tapped:
        """Correct a hive done: supers were on it when it was treated."""
        spot = self.spot(hive)
        return self._correct(
            hive,
            {"supers": "on"},
            say("supers were on"),
            self._pen.beside_taken_back(spot, "super_off"),
        )

    def part_dose(self, hive: str) -> Tapped:
        """Correct a hive done: it got only part of its dose."""
        return self._correct(hive, {"part": True}, say("part dose"))

    def pieces_by_number(self, hive: str) -> PiecesByNumber:
        """Return the form for pieces out, moved, lost and found, in place of what a tap logged."""
        return PiecesByNumber(
            self._notebook,
            hive,
            treatment=self.treatment,
            round_id=self.id,
            taken_back=self._pen.taken_back(self.spot(hive)),
        )

    def noted(self, hive: str, did: Phrase) -> Tapped:
        """Take note that a hive's records were written beside the round."""
        self._spots = [self._read(each.hive) if each.hive == hive else each for each in self._spots]
        return self._answer(self.spot(hive), did)

    def other_amount(self, hive: str, amount: float) -> Tapped:
        """Correct a hive done: it got another amount, in the unit of the round."""
        given = self._amount._replace(amount=amount, per="hive", cap=None)
        return self._correct(hive, given.body(None), given.phrase())

    @property
    def amounts_differ(self) -> bool:
        """Whether another amount can be said: the round's own is known."""
        return self.task == "treat" and self._amount.amount is not None

    def amount_of(self, hive: str) -> tuple[float, str]:
        """Return what a hive got, or gets, and its unit."""
        record = self.spot(hive).record
        dose = record.body.get("dose") if record is not None else None
        if dose is not None:
            return float(dose["amount"]), str(dose["unit"])
        given = self._amount.given(self.last_counted(hive))
        if given is None:
            given = 0.0 if self._amount.counted else self._amount.amount or 0.0
        return given, self._amount.unit

    def said(self, amount: float) -> Phrase:
        """Return an amount of this round's unit in words."""
        return measured(amount, self._amount.unit)

    def end(self) -> None:
        """Log the end of the round; hives still open are *not treated*, with no reason given."""
        self._write([self._pen.draft("round_end", None, {"round": self.id})])
        self._notebook.local.put("round", None)
        self._notebook.local.put("amount", None)

    # -- how it is written

    def _correct(
        self, hive: str, fields: Mapping[str, Any], did: Phrase, more: Sequence[Draft] = ()
    ) -> Tapped:
        spot = self.spot(hive)
        if spot.mark != "done" or spot.record is None:
            return self._answer(spot, say("Hive {number} is not done yet", number=spot.number))
        self._write([self._pen.corrected(spot, {**spot.record.body, **fields}), *more])
        return self._answer(spot, say("Hive {number} done: {how}", number=spot.number, how=did))

    def _write(self, drafts: Sequence[Draft]) -> None:
        self._notebook.write(drafts)
        touched = {draft.hive for draft in drafts}
        self._spots = [
            self._read(spot.hive) if spot.hive in touched else spot for spot in self._spots
        ]

    def _answer(self, spot: Spot, did: Phrase) -> Tapped:
        now = self._notebook.clock.monotonic()
        self._last = Tapped(spot.hive, spot.number, did, now, self.spot(spot.hive).mark)
        return self._last

    # -- how it is read back

    @property
    def _day(self) -> Any:
        return self._notebook.today(self.apiary)

    def _state(self, hive: str) -> HiveState:
        return self._notebook.book.hive(hive)

    def _read(self, hive: str) -> Spot:
        return read_spot(self._notebook, self.id, hive, self._number(hive))

    def _number(self, hive: str) -> str:
        return self._numbers.get(hive) or self._state(hive).number


def _kept_lot(notebook: Notebook, record: Record) -> Lot | None:
    """Return the batch that the round names, or the lot that this phone keeps for it."""
    kept = notebook.local.get("amount")
    of_phone = kept.get("lot") if kept and kept.get("round") == record.id else None
    return notebook.shelf.ledger().stock.lot(record.body.get("batch") or of_phone or "")


def _kept_amount(notebook: Notebook, round_id: str) -> Amount:
    kept = notebook.local.get("amount")
    if kept and kept.get("round") == round_id:
        return Amount(*kept["amount"])
    return NOT_SAID
