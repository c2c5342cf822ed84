"""A round: one walk through an apiary, hive by hive, each tap saved before it is answered.

Where the round stands is never kept beside the records: it is read back from them, so a
phone that dies in the middle goes on where it was.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal, NamedTuple

from fieldapp.book import Entry, Stop
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.corrections import version
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.amounts import NOT_SAID, Amount, measured
from fieldapp.rounds.cautions import SUPERS_OFF_FIRST, supers_of, supers_on
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, count, say

Task = Literal["treat", "pieces"]
Mark = Literal["open", "done", "skipped"]

#: Seconds after a tap during which *undo* and *not like that* stand on the screen.
UNDO_S = 12.0

#: Reasons for which a hive is passed over, as the record has them, in the trade's words.
WHY: dict[str, Phrase] = {
    "supers on": say("supers on"),
    "dead": say("dead"),
    "too weak": say("too weak"),
    "queenless": say("queenless"),
    "too hot": say("too hot"),
    "too cold": say("too cold"),
    "ran out": say("ran out"),
    "bees too bad": say("bees too bad"),
    "no bees at home": say("no bees at home"),
    "not needed": say("not needed"),
    "other": say("other reason"),
}


class Spot(NamedTuple):
    """One hive of the walk: what was done to it in this round, and by which record.

    `record` is what holds for it, `root` the record that a correction names, `heads` those
    that a correction made now would replace.
    """

    hive: str
    number: str
    mark: Mark
    record: Record | None = None
    root: Record | None = None
    heads: tuple[str, ...] = ()

    @property
    def why(self) -> Phrase | None:
        """Why it was skipped."""
        if self.mark != "skipped" or self.record is None:
            return None
        return WHY.get(self.record.body.get("why", ""), say("other reason"))


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
        self._terms = terms.id if terms is not None else ""
        self.name = terms.name if terms is not None else ""
        self._numbers = {
            stop.hive: stop.number for stop in notebook.book.walk(self.apiary, self._day)
        }
        self._spots = self._read()

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
            pieces = self._pieces_in(hive)
            if pieces is None:
                return say("pieces out")
            return count("{n} piece out", "{n} pieces out", pieces)
        return self._amount.phrase(self._seams(hive))

    def needs_seams(self, hive: str) -> bool:
        """Whether the keeper must say the seams of this hive before its dose is known."""
        return self.task == "treat" and self._amount.by_seams and self._seams(hive) is None

    def warning(self, hive: str) -> Phrase | None:
        """Return what must be done first at this hive."""
        if self.task == "treat" and supers_on(self._state(hive)):
            return say("Supers on: take them off first")
        return None

    # -- taps

    def tap(self, hive: str, seams: float | None = None) -> Tapped:
        """Log the hive as done now. A hive already done is left as it is."""
        spot = self.spot(hive)
        if spot.mark == "done":
            return self._answer(spot, say("Hive {number} was already done", number=spot.number))
        if self.task == "pieces":
            drafts = [self._removal(hive)]
        else:
            drafts = [*self._supers_off(hive), self._application(hive, seams)]
        self._write([*self._void(spot), *drafts])
        return self._answer(spot, say("Hive {number} done", number=spot.number))

    def undo(self) -> Tapped | None:
        """Take the last tap back: its record is voided as a slip, and the hive is next again."""
        if self._last is None:
            return None
        spot = self.spot(self._last.hive)
        if spot.mark == "open":
            return None
        self._write(self._void(spot))
        before = self._spots.index(self.spot(spot.hive))
        self._answer(spot, say("Hive {number}: taken back", number=spot.number))
        told = self._last
        previous = self._spots[before - 1]
        self._last = Tapped(previous.hive, previous.number, told.did, float("-inf"))
        return told

    def skip(self, hive: str, why: str) -> Tapped:
        """Log that a hive was not done, and why; what was logged for it is voided as a slip."""
        spot = self.spot(hive)
        drafts = [*self._void(spot), self._draft("skip", hive, self._skip_body(why))]
        if why == "dead" and not self._state(hive).dead:
            drafts.append(self._draft("death", hive, {}))
        self._write(drafts)
        return self._answer(
            spot,
            say("Hive {number} not done: {why}", number=spot.number, why=WHY[why]),
        )

    def supers_found_on(self, hive: str) -> Tapped:
        """Correct a hive done: supers were on it when it was treated."""
        spot = self.spot(hive)
        return self._correct(
            hive, {"supers": "on"}, say("supers were on"), self._supers_on_again(spot)
        )

    def part_dose(self, hive: str) -> Tapped:
        """Correct a hive done: it got only part of its dose."""
        return self._correct(hive, {"part": True}, say("part dose"))

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
        return self._amount.given(self._seams(hive)) or 0.0, self._amount.unit

    def said(self, amount: float) -> Phrase:
        """Return an amount of this round's unit in words."""
        return measured(amount, self._amount.unit, "hive")

    def end(self) -> None:
        """Log the end of the round; hives still open are *not treated*, with no reason given."""
        self._write([self._draft("round_end", None, {"round": self.id})])
        self._notebook.local.put("round", None)
        self._notebook.local.put("amount", None)

    # -- how it is written

    def _application(self, hive: str, seams: float | None) -> Draft:
        body: dict[str, Any] = {
            "treatment": self.treatment,
            "terms": self._terms,
            "round": self.id,
            "supers": "on" if self._supers_stay(hive) else "off",
            **self._amount.body(seams if seams is not None else self._seams(hive)),
        }
        if self._record.body.get("plan"):
            body["plan"] = self._record.body["plan"]
        elif (plan := self._plan(hive)) is not None:
            body["plan"] = plan
        return self._draft("application", hive, body)

    @property
    def _supers_come_off(self) -> bool:
        return bool(self._record.body.get("checks", {}).get(SUPERS_OFF_FIRST) == "yes")

    def _supers_stay(self, hive: str) -> bool:
        return supers_on(self._state(hive)) and not self._supers_come_off

    def _supers_off(self, hive: str) -> list[Draft]:
        """Return what says that the supers came off first, where the keeper said they would."""
        if not self._supers_come_off:
            return []
        return [
            self._draft("super_off", hive, {"mark": each.mark} if each.mark else {})
            for each in supers_of(self._state(hive))
        ]

    def _supers_on_again(self, spot: Spot) -> list[Draft]:
        """Return what voids the supers' coming off that was logged with a tap."""
        if not self._supers_come_off or spot.record is None:
            return []
        together = [
            _spot(spot.hive, spot.number, "done", entry)
            for entry in self._notebook.book.history(spot.hive)
            if entry.root.kind == "super_off"
            and not entry.void
            and entry.holds.happened == spot.record.happened
        ]
        return [
            self._correction(each, each.record.body, void=True)
            for each in together
            if each.record is not None
        ]

    def _removal(self, hive: str) -> Draft:
        return self._draft(
            "pieces",
            hive,
            {
                "did": "out",
                "count": self._pieces_in(hive) or 1,
                "treatment": self.treatment,
                "round": self.id,
            },
        )

    def _skip_body(self, why: str) -> dict[str, Any]:
        body: dict[str, Any] = {"round": self.id, "why": why}
        if self.treatment is not None:
            body["treatment"] = self.treatment
        return body

    def _correct(
        self, hive: str, fields: Mapping[str, Any], did: Phrase, more: Sequence[Draft] = ()
    ) -> Tapped:
        spot = self.spot(hive)
        if spot.mark != "done" or spot.record is None or spot.root is None:
            return self._answer(spot, say("Hive {number} is not done yet", number=spot.number))
        corrected = self._correction(spot, {**spot.record.body, **fields}, void=False)
        self._write([corrected, *more])
        return self._answer(spot, say("Hive {number} done: {how}", number=spot.number, how=did))

    def _void(self, spot: Spot) -> list[Draft]:
        if spot.record is None:
            return []
        slip = {"reason": "slip"} if spot.record.kind == "application" else {}
        return [
            self._correction(spot, {**spot.record.body, **slip}, void=True),
            *self._supers_on_again(spot),
        ]

    def _correction(self, spot: Spot, body: Mapping[str, Any], *, void: bool) -> Draft:
        record, root = spot.record, spot.root
        if record is None or root is None:
            raise LookupError(spot.hive)
        return Draft(
            root.kind,
            record.happened,
            record.keeper,
            dict(body),
            apiary=record.apiary,
            hive=record.hive,
            colony=record.colony,
            corrects=root.id,
            heads=spot.heads,
            void=void,
        )

    def _draft(self, kind: str, hive: str | None, body: dict[str, Any]) -> Draft:
        state = self._state(hive) if hive else None
        return Draft(
            kind,
            self._notebook.moment(self.apiary),
            self._notebook.keeper or "",
            body,
            apiary=self.apiary,
            hive=hive,
            colony=(state.colony or None) if state else None,
        )

    def _write(self, drafts: Sequence[Draft]) -> None:
        self._notebook.write(drafts)
        self._spots = self._read()

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

    def _read(self) -> list[Spot]:
        return [self._spot(hive) for hive in self._record.body["hives"]]

    def _spot(self, hive: str) -> Spot:
        number = self._numbers.get(hive) or self._state(hive).number
        for entry in self._notebook.book.history(hive):
            if entry.void or entry.root.body.get("round") != self.id:
                continue
            if entry.root.kind in ("application", "pieces"):
                return _spot(hive, number, "done", entry)
            if entry.root.kind == "skip":
                return _spot(hive, number, "skipped", entry)
        return Spot(hive, number, "open")

    def _seams(self, hive: str) -> float | None:
        for entry in self._notebook.book.history(hive):
            seams = entry.holds.body.get("seams")
            if not entry.void and seams is not None:
                return float(seams)
        return None

    def _plan(self, hive: str) -> str | None:
        for course in self._state(hive).courses:
            if course.treatment == self.treatment and not course.ended and course.below:
                return course.plan or None
        return None

    def _pieces_in(self, hive: str) -> int | None:
        open_ones = [
            exposure
            for exposure in self._state(hive).exposures
            if exposure.treatment == self.treatment and exposure.open
        ]
        pieces = sum(exposure.remaining for exposure in open_ones)
        return pieces or None


def _spot(hive: str, number: str, mark: Mark, entry: Entry) -> Spot:
    heads = version(entry.root, entry.corrections).head_ids if entry.corrections else ()
    return Spot(hive, number, mark, entry.holds, entry.root, heads)


def _kept_amount(notebook: Notebook, round_id: str) -> Amount:
    kept = notebook.local.get("amount")
    if kept and kept.get("round") == round_id:
        return Amount(*kept["amount"])
    return NOT_SAID


def walk_order(stops: Sequence[Stop]) -> list[str]:
    """Return the hives that a round can walk, in order."""
    return [stop.hive for stop in stops if not stop.dead and not stop.ended]
