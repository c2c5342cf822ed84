"""A round: one walk through an apiary, hive by hive, each tap saved before it is answered.

Where the round stands is never kept beside the records: it is read back from them, so a
phone that dies in the middle goes on where it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal, NamedTuple

from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.cautions import supers_on
from fieldapp.rounds.giving import Giving, forget
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.pen import Pen
from fieldapp.rounds.spots import WHY, Mark, Spot, read_spot
from fieldapp.rounds.taking import last_counted
from fieldapp.rounds.timers import Timer, Timers
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
        self.notebook = notebook
        self.record = record
        self.id = record.id
        self.apiary = record.apiary or ""
        self.treatment: str | None = record.body.get("treatment")
        self.task: Task = "pieces" if record.body["task"] == "pieces" else "treat"
        self.giving = Giving.kept(notebook, record.id)
        self._last: Tapped | None = None
        terms = notebook.book.terms().get(self.treatment or "")
        self.name = terms.name if terms is not None else ""
        self.pen = Pen(
            notebook,
            record,
            terms.id if terms is not None else "",
            self.giving,
            _kept_lot(notebook, record, self.giving),
        )
        self._timers = Timers(notebook.local, notebook.clock)
        self._numbers = {
            stop.hive: stop.number for stop in notebook.book.walk(self.apiary, self._day)
        }
        self._spots = [self._read(hive) for hive in record.body["hives"]]

    # -- where the walk stands

    @property
    def place(self) -> str:
        """The name of the apiary."""
        return self.notebook.place_name(self.apiary)

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

    def ready_next(self) -> None:
        """Read what the next tap and the summary will need, while the keeper walks on."""
        if self.next is not None:
            self.notebook.book.wake(self.next.hive)
        if self._last is not None:
            self.notebook.book.items(self._last.hive, self._day)

    @property
    def passed(self) -> int:
        """How many hives were done or skipped."""
        return sum(spot.mark != "open" for spot in self._spots)

    @property
    def last(self) -> Tapped | None:
        """The last tap, for some seconds after it."""
        now = self.notebook.clock.monotonic()
        return self._last if self._last is not None and now <= self._last.ends else None

    def spot(self, hive: str) -> Spot:
        """Return one hive of the walk."""
        return next(spot for spot in self._spots if spot.hive == hive)

    def gets(self, hive: str) -> Phrase:
        """Return what a hive gets in this round, as its field says it."""
        if self.task == "pieces":
            return self._with_pieces(self.pieces_in(hive))
        if self.giving.strokes is not None:
            return self.giving.strokes.short
        return self.giving.amount.phrase(self.last_counted(hive))

    def pieces_in(self, hive: str) -> int | None:
        """Return how many pieces of the treatment are in a hive, None where nobody said."""
        return self.pen.pieces_in(hive)

    def timer(self, hive: str) -> Timer | None:
        """Return the timer that runs for a hive in this round, None where none does."""
        return self._timers.of(self.id, hive)

    @property
    def counts(self) -> str:
        """What the keeper counts at each hive, for its dose follows from it; empty: nothing."""
        amount = self.giving.amount
        return amount.per if self.task == "treat" and amount.counted else ""

    def last_counted(self, hive: str) -> float | None:
        """Return how many of the dose's basis a hive had last, None where nobody looked."""
        return last_counted(self.notebook, hive, self.giving.amount.per)

    def warning(self, hive: str) -> Phrase | None:
        """Return what must be done first at this hive."""
        if self.task == "treat" and supers_on(self._state(hive)):
            return say("Supers on: take them off first")
        return None

    # -- taps

    def tap(self, hive: str, counted: float | None = None) -> Tapped:
        """Log the hive as done now, with what was counted; its timer starts.

        One already done is left as it is. So is one of a round of pieces where nobody knows
        how many are in: `counted` has to say it.
        """
        spot = self.spot(hive)
        if spot.mark == "done":
            return self.answer(hive, say("Hive {number} was already done", number=spot.number))
        if self.task == "pieces":
            pieces = self.pieces_in(hive) if counted is None else int(counted)
            if not pieces:
                words = say("Hive {number}: say how many pieces", number=spot.number)
                return self.answer(hive, words)
            drafts = [self.pen.pieces(hive, self.giving.did, pieces)]
        else:
            number = counted if counted is not None else self.last_counted(hive)
            drafts = self.pen.application(hive, number)
        self.write([*self.pen.taken_back(spot), *drafts])
        root = self.spot(hive).root
        if self.task == "treat" and self.giving.times.whole and root is not None:
            self._timers.begin(self.id, hive, spot.number, root.id, self.giving.times)
        return self.answer(hive, say("Hive {number} done", number=spot.number))

    def undo(self) -> Tapped | None:
        """Take the last tap back: its record is voided as a slip, and the hive is next again."""
        if self._last is None:
            return None
        spot = self.spot(self._last.hive)
        if spot.mark == "open":
            return None
        self.write(self.pen.taken_back(spot))
        self._timers.stop(self.id, spot.hive)
        before = self._spots.index(self.spot(spot.hive))
        self.answer(spot.hive, say("Hive {number}: taken back", number=spot.number))
        told = self._last
        previous = self._spots[before - 1]
        self._last = Tapped(previous.hive, previous.number, told.did, float("-inf"))
        return told

    def skip(self, hive: str, why: str) -> Tapped:
        """Log that a hive was not done, and why; what was logged for it is voided as a slip."""
        spot = self.spot(hive)
        self.write([*self.pen.taken_back(spot), *self.pen.skipped(hive, why)])
        self._timers.stop(self.id, hive)
        words = say("Hive {number} not done: {why}", number=spot.number, why=WHY[why])
        return self.answer(hive, words)

    def stop_timer(self, hive: str) -> int:
        """Stop the timer of a hive; return the whole seconds that it ran."""
        return self._timers.stop(self.id, hive)

    def end(self) -> None:
        """Log the end of the round; hives still open are *not treated*, with no reason given."""
        self.write([self.pen.draft("round_end", None, {"round": self.id})])
        self.notebook.local.put("round", None)
        forget(self.notebook)

    # -- how it is written

    def write(self, drafts: Sequence[Draft]) -> None:
        """Write records of this round in one transaction, and read anew whom they touch."""
        self.notebook.write(drafts)
        touched = {draft.hive for draft in drafts}
        self._spots = [
            self._read(spot.hive) if spot.hive in touched else spot for spot in self._spots
        ]

    def answer(self, hive: str, did: Phrase) -> Tapped:
        """Take note of what was done at a hive, so that it can be taken back or put right."""
        now, spot = self.notebook.clock.monotonic(), self.spot(hive)
        self._timers.answer()
        self._last = Tapped(hive, spot.number, did, now, spot.mark)
        return self._last

    # -- how it is read back

    @property
    def _day(self) -> Any:
        return self.notebook.today(self.apiary)

    def _state(self, hive: str) -> HiveState:
        return self.notebook.book.hive(hive)

    def _read(self, hive: str) -> Spot:
        return read_spot(self.notebook, self.record, hive, self._number(hive))

    def _with_pieces(self, pieces: int | None) -> Phrase:
        if self.giving.did == "moved":
            if pieces is None:
                return say("pieces moved: how many?")
            return count("{n} piece moved", "{n} pieces moved", pieces)
        if pieces is None:
            return say("pieces out: how many?")
        return count("{n} piece out", "{n} pieces out", pieces)

    def _number(self, hive: str) -> str:
        return self._numbers.get(hive) or self._state(hive).number


def _kept_lot(notebook: Notebook, record: Record, giving: Giving) -> Lot | None:
    """Return the batch that the round names, or the lot that this phone keeps for it."""
    return notebook.shelf.ledger().stock.lot(record.body.get("batch") or giving.lot or "")
