"""A round of looking: hive by hive through a form or a count, in walk order.

Where it stands is read back from the records: a hive is done when it has a record of the
round's kind made since the round began.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from fieldapp.husbandry.answers import Line
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.due import OF_TASK, Asks
from fieldapp.rounds.hive_correction import Correction
from fieldapp.rounds.look_inside import draft_at
from fieldapp.rounds.look_pieces import PiecesByNumber
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import entry_of
from fieldapp.rounds.skipping import told_by
from fieldapp.rounds.spots import WHY, Spot, spot_of, walk_order
from fieldapp.words import Phrase, say

#: The kinds of records by which a hive is done.
_KINDS: dict[Asks, frozenset[str]] = {
    "look": frozenset({"look", "queen", "feed", "super_on", "super_off", "board"}),
    "day after": frozenset({"day_after"}),
    "count": frozenset({"count"}),
    "board": frozenset({"count"}),
    "board in": frozenset({"board"}),
    "board out": frozenset({"board"}),
    "pieces": frozenset({"pieces"}),
}
#: The task as the round's record names it.
_TASK: dict[Asks, str] = {
    "look": "look",
    "day after": "look",
    "count": "count",
    "board": "board",
    "board in": "board",
    "board out": "board",
    "pieces": "pieces",
}
_NAMES: dict[Asks, Phrase] = {
    "look": say("A look inside"),
    "day after": say("The day after"),
    "count": say("Count mites"),
    "board": say("Read the board and take it out"),
    "board in": say("Bottom board in"),
    "board out": say("Bottom board out"),
    "pieces": say("Pieces"),
}
#: Seconds for which the last hive can be taken back.
UNDO_S = 12.0


class Done(NamedTuple):
    """The last hive done, while it can still be taken back."""

    hive: str
    did: Phrase
    ends: float


class LookRound:
    """One such round under way. Make it with `begin` or `under_way`."""

    def __init__(self, notebook: Notebook, record: Record, asks: Asks) -> None:
        self._notebook = notebook
        self._record = record
        self.asks = asks
        self.apiary = record.apiary or ""
        self.name = _NAMES[asks]
        self._last: Done | None = None
        self._numbers = {
            stop.hive: stop.number
            for stop in notebook.book.walk(self.apiary, notebook.today(self.apiary))
        }

    @classmethod
    def begin(cls, notebook: Notebook, line: Line) -> LookRound:
        """Begin the round that a line of the agenda asks for, in walk order."""
        apiary = line.apiary or ""
        order = walk_order(notebook.book.walk(apiary, notebook.today(apiary)))
        hives = [hive for hive in order if hive in line.hives or not line.hives]
        hives += [hive for hive in line.hives if hive not in hives]
        asks = OF_TASK[line.task]
        return cls._begin(notebook, apiary, asks, hives, line.treatment)

    @classmethod
    def at(cls, notebook: Notebook, apiary: str, asks: Asks) -> LookRound:
        """Begin a round of all hives of an apiary, in walk order."""
        order = walk_order(notebook.book.walk(apiary, notebook.today(apiary)))
        return cls._begin(notebook, apiary, asks, order, None)

    @classmethod
    def _begin(
        cls,
        notebook: Notebook,
        apiary: str,
        asks: Asks,
        hives: Sequence[str],
        treatment: str | None,
    ) -> LookRound:
        body: dict[str, Any] = {"task": _TASK[asks], "hives": list(hives)}
        if treatment is not None:
            body["treatment"] = treatment
        draft = Draft("round", notebook.moment(apiary), notebook.keeper or "", body, apiary=apiary)
        record = notebook.write([draft])[0]
        notebook.local.put("look round", {"round": record.id, "asks": asks})
        notebook.local.put("apiary", apiary)
        return cls(notebook, record, asks)

    @property
    def place(self) -> str:
        """The name of the apiary."""
        return self._notebook.place_name(self.apiary)

    @property
    def treatment(self) -> str | None:
        """The treatment that the round is about, if it is about one."""
        treatment: str | None = self._record.body.get("treatment")
        return treatment

    @property
    def id(self) -> str:
        """Id of the round's record."""
        return self._record.id

    @property
    def spots(self) -> Sequence[Spot]:
        """The hives in walk order."""
        return [self.spot(hive) for hive in self._record.body["hives"]]

    def spot(self, hive: str) -> Spot:
        """Return where a hive stands in the round, from its records."""
        number = self._numbers.get(hive) or self._notebook.book.hive(hive).number
        for entry in self._notebook.book.history(hive, self._record.stamp):
            if entry.void:
                continue
            if entry.root.kind in _KINDS[self.asks]:
                return spot_of(hive, number, "done", entry)
            if entry.root.kind == "skip" and entry.root.body.get("round") == self.id:
                return spot_of(hive, number, "skipped", entry)
        return Spot(hive, number, "open")

    @property
    def next(self) -> Spot | None:
        """The next open hive after the last one done, then from the start; None: all done."""
        return next((spot for spot in self.from_last(self.spots) if spot.mark == "open"), None)

    def from_last(self, spots: Sequence[Spot]) -> list[Spot]:
        """Return the hives from the one after the last one done, round to it."""
        start = 0
        if self._last is not None:
            start = 1 + [spot.hive for spot in spots].index(self._last.hive)
        return [*spots[start:], *spots[:start]]

    def pieces(self, hive: str) -> PiecesByNumber:
        """Return the form for the pieces of a hive."""
        return PiecesByNumber(self._notebook, hive, treatment=self.treatment, round_id=self.id)

    @property
    def last(self) -> Done | None:
        """The last hive done, for some seconds after it."""
        now = self._notebook.clock.monotonic()
        return self._last if self._last is not None and now <= self._last.ends else None

    def done(self, hive: str, did: Phrase) -> None:
        """Take note that a hive's records were written."""
        self._last = Done(hive, did, self._notebook.clock.monotonic() + UNDO_S)

    @property
    def at_once(self) -> bool:
        """Whether nothing is to be asked at a hive: a tap logs it."""
        return self.asks in ("board in", "board out")

    def tap(self, hive: str) -> Phrase:
        """Log that the bottom board of a hive is in, or out; one that is logged stays as it is."""
        spot = self.spot(hive)
        if spot.mark != "done":
            did = "in" if self.asks == "board in" else "out"
            self._notebook.write([draft_at(self._notebook, hive, "board", {"did": did})])
        words = {
            "board in": say("Hive {number}: board in", number=spot.number),
            "board out": say("Hive {number}: board out", number=spot.number),
        }
        self.done(hive, words[self.asks])
        return words[self.asks]

    def skip(self, hive: str, why: str) -> None:
        """Log that a hive is passed over, why, and what that tells of it."""
        told = told_by(why, self._notebook.book.hive(hive))
        drafts = [
            draft_at(self._notebook, hive, kind, body)
            for kind, body in [("skip", {"round": self.id, "why": why}), *told]
        ]
        self._notebook.write(drafts)
        number = self.spot(hive).number
        self.done(hive, say("Hive {number} not done: {why}", number=number, why=WHY[why]))

    def undo(self) -> Phrase | None:
        """Take back what was written for the last hive: each of its records is voided."""
        if self._last is None:
            return None
        hive = self._last.hive
        spot = self.spot(hive)
        if spot.record is not None:
            moment = spot.record.happened
            beside = [
                Correction(self._notebook, entry_of(self._notebook, entry.root.id)).voided("slip")
                for entry in self._notebook.book.history(hive, self._record.stamp)
                if not entry.void and entry.root.happened == moment
            ]
            self._notebook.write([draft for drafts in beside for draft in drafts])
        spots = [spot.hive for spot in self.spots]
        before = spots[spots.index(hive) - 1]
        did = say("Hive {number}: taken back", number=spot.number)
        self._last = Done(before, did, float("-inf"))
        return did

    def end(self) -> None:
        """Log the end of the round."""
        apiary = self.apiary
        self._notebook.write(
            [
                Draft(
                    "round_end",
                    self._notebook.moment(apiary),
                    self._notebook.keeper or "",
                    {"round": self.id},
                    apiary=apiary,
                )
            ]
        )
        self._notebook.local.put("look round", None)


def under_way(notebook: Notebook) -> LookRound | None:
    """Return the round that this phone was in when it was last used, if it has not ended."""
    kept = notebook.local.get("look round")
    if not isinstance(kept, dict):
        return None
    record = notebook.journal.by_id(kept["round"])
    if record is None or record.kind != "round" or kept["asks"] not in _NAMES:
        return None
    return LookRound(notebook, record, kept["asks"])
