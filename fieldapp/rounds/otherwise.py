"""What was otherwise at a hive of a round than its tap logged; each is one correction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from fieldapp.husbandry.amounts import PIECE_UNITS, measured
from fieldapp.journal.record import Draft
from fieldapp.rounds.look_questions import SEEN
from fieldapp.rounds.round import Round, Tapped
from fieldapp.rounds.strokes_given import Strokes, strokes_of
from fieldapp.words import Phrase, count, say


class Otherwise:
    """Corrections to one hive of a round."""

    def __init__(self, round_: Round, hive: str) -> None:
        self.round = round_
        self.hive = hive

    # -- treating

    def supers_found_on(self) -> Tapped:
        """Say that supers were on when it was treated."""
        off = self.round.pen.beside_taken_back(self.round.spot(self.hive), "super_off")
        return self._correct({"supers": "on"}, say("supers were on"), off)

    def part_dose(self) -> Tapped:
        """Say that it got only part of its dose."""
        return self._correct({"part": True}, say("part dose"))

    def cut_short(self) -> Tapped:
        """Stop its timer: it got a part dose, over as many seconds as the method ran."""
        ran = min(self.round.stop_timer(self.hive), self.round.giving.times.runs)
        seconds = {"seconds": ran} if self.round.giving.times.runs else {}
        return self._correct({"part": True, **seconds}, say("cut short, part dose"))

    def queenless(self) -> Tapped:
        """Say that the colony has no queen; what was logged for it stands."""
        spot = self.round.spot(self.hive)
        draft = self.round.pen.queenless(self.hive)
        if spot.record is not None:
            draft = draft._replace(happened=spot.record.happened)
        self.round.write([draft])
        return self.round.answer(self.hive, say("Hive {number}: queenless", number=spot.number))

    @property
    def amounts_differ(self) -> bool:
        """Whether another amount can be said: the round's own is known, and is no strokes."""
        round_ = self.round
        known = round_.giving.amount.amount is not None and round_.giving.strokes is None
        return round_.task == "treat" and known

    @property
    def by_pieces(self) -> bool:
        """Whether the amount is a number of pieces."""
        return self.round.giving.amount.unit in PIECE_UNITS

    def amount(self) -> tuple[float, str]:
        """Return what the hive got, or gets, and its unit."""
        amount = self.round.giving.amount
        record = self.round.spot(self.hive).record
        dose = record.body.get("dose") if record is not None else None
        if dose is not None:
            return float(dose["amount"]), str(dose["unit"])
        given = amount.given(self.round.last_counted(self.hive))
        if given is None:
            given = 0.0 if amount.counted else amount.amount or 0.0
        return given, amount.unit

    def said(self, amount: float) -> Phrase:
        """Return an amount of this round's unit in words."""
        return measured(amount, self.round.giving.amount.unit)

    def other_amount(self, amount: float) -> Tapped:
        """Say that it got another amount, in the unit of the round."""
        given = self.round.giving.amount._replace(amount=amount, per="hive", cap=None)
        return self._correct(given.body(None), given.phrase())

    @property
    def strokes(self) -> Strokes | None:
        """The strokes that it got, or gets; None where none are given in this round."""
        record = self.round.spot(self.hive).record
        said = strokes_of(record.body) if record is not None else None
        return said or self.round.giving.strokes

    def other_strokes(self, strokes: Strokes) -> Tapped:
        """Say that it got other strokes."""
        body = strokes.body(self.round.notebook)
        return self._correct(body, strokes.short, without=("strokes", "dose"))

    # -- pieces

    @property
    def inside(self) -> int:
        """Pieces that were in before the tap: those still in, and those it took out."""
        record = self.round.spot(self.hive).record
        out = record.body["count"] if record is not None and record.kind == "pieces" else 0
        still = self.round.pieces_in(self.hive) or 0
        return still if self.round.giving.did == "moved" else still + out

    def other_number(self, number: int) -> Tapped:
        """Say that another number was moved, or came out; the rest is still in."""
        did = self.round.giving.did
        words = {
            "moved": count("{n} piece moved", "{n} pieces moved", number),
            "out": count("{n} piece out", "{n} pieces out", number),
        }
        return self._pieces([self.round.pen.pieces(self.hive, did, number)], words[did])

    def lost(self, number: int, seen: str) -> Tapped:
        """Say that some were lost, and how that is known; the others are out, or were moved."""
        pen, others = self.round.pen, max(0, self.inside - number)
        drafts = [pen.pieces(self.hive, "lost", number, seen)]
        drafts += [pen.pieces(self.hive, self.round.giving.did, others)] if others else []
        words = say("{n} lost: {seen}", n=number, seen=SEEN.said(seen))
        return self._pieces(drafts, words)

    def found(self, number: int) -> Tapped:
        """Say that more were there than should be; in a round of taking out they are out too."""
        pen, inside = self.round.pen, self.inside
        drafts = [
            pen.pieces(self.hive, "found", number),
            pen.pieces(self.hive, self.round.giving.did, inside + number),
        ]
        return self._pieces(drafts, say("{n} more found", n=number))

    def _pieces(self, drafts: Sequence[Draft], did: Phrase) -> Tapped:
        """Write pieces in place of what the tap logged."""
        spot = self.round.spot(self.hive)
        self.round.write([*self.round.pen.taken_back(spot), *drafts])
        words = say("Hive {number} done: {how}", number=spot.number, how=did)
        return self.round.answer(self.hive, words)

    # -- how it is written

    def _correct(
        self,
        fields: Mapping[str, Any],
        did: Phrase,
        more: Sequence[Draft] = (),
        without: Sequence[str] = (),
    ) -> Tapped:
        spot, round_ = self.round.spot(self.hive), self.round
        if spot.mark != "done" or spot.record is None:
            words = say("Hive {number} is not done yet", number=spot.number)
            return round_.answer(self.hive, words)
        stays = {name: said for name, said in spot.record.body.items() if name not in without}
        body = {**stays, **fields}
        if "dose" in body:
            body = round_.pen.taken_from_lot(body)
        round_.write([round_.pen.corrected(spot, body), *more])
        words = say("Hive {number} done: {how}", number=spot.number, how=did)
        return round_.answer(self.hive, words)


def given_words(body: Mapping[str, Any]) -> Phrase | None:
    """Return what an ``application`` says was given, in words; None where it does not say."""
    strokes = strokes_of(body)
    if strokes is not None and strokes.number:
        return strokes.words
    dose = body.get("dose")
    return measured(dose["amount"], dose["unit"]) if dose else None
