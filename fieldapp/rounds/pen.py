"""Drafts the records of a round: what a tap means, and what takes it back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.cautions import SUPERS_OFF_FIRST, supers_of, supers_on
from fieldapp.rounds.giving import Giving
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.skipping import told_by
from fieldapp.rounds.spots import Spot, spot_of
from fieldapp.rounds.taking import CLEAR, CLEARNESS, drawn

#: Kinds that a tap may log beside its own record, and that are taken back with it.
_BESIDE = frozenset({"super_off", "super_on", "death", "look", "pieces"})


class Pen:
    """Writes nothing itself: it returns drafts, which the round writes in one transaction.

    `record` is the round's own, `terms` the root id of the terms, `giving` what a hive gets,
    `lot` from what it is taken, None where that is not known.
    """

    def __init__(
        self, notebook: Notebook, record: Record, terms: str, giving: Giving, lot: Lot | None
    ) -> None:
        self._notebook = notebook
        self._record = record
        self._terms = terms
        self._giving = giving
        self._lot = lot
        self._treatment: str | None = record.body.get("treatment")

    def application(self, hive: str, number: float | None) -> list[Draft]:
        """Return what says that a hive was treated; its supers off first, where said so.

        `number` is how many of the dose's basis it has, None where not known.
        """
        off = self._supers_off(hive)
        stay = supers_on(self._state(hive)) and not off
        strokes = self._giving.strokes
        given = strokes.body(self._notebook) if strokes else self._giving.amount.body(number)
        if self._giving.times.runs:
            given["seconds"] = self._giving.times.runs
        body: dict[str, Any] = {
            "treatment": self._treatment,
            "terms": self._terms,
            "round": self._record.id,
            "supers": "on" if stay else "off",
            **given,
            **drawn(self._lot, given.get("dose")),
            **self._cleared(),
        }
        if (plan := self._record.body.get("plan") or self._plan(hive)) is not None:
            body["plan"] = plan
        return [*off, self.draft("application", hive, body)]

    def taken_from_lot(self, body: dict[str, Any]) -> dict[str, Any]:
        """Return the body of an application with what it drew on, by its dose."""
        if self._lot is None:
            return body
        kept = {name: value for name, value in body.items() if name != "drawn"}
        return kept | drawn(self._lot, body.get("dose"))

    def pieces(self, hive: str, did: str, number: int, seen: str | None = None) -> Draft:
        """Return what says that so many pieces were moved, are out, lost or found in a hive."""
        body = {
            "did": did,
            "count": number,
            "treatment": self._treatment,
            "round": self._record.id,
        }
        return self.draft("pieces", hive, body | ({"seen": seen} if seen is not None else {}))

    def skipped(self, hive: str, why: str) -> list[Draft]:
        """Return what says that a hive was passed over, and what that tells of it."""
        body: dict[str, Any] = {"round": self._record.id, "why": why}
        if self._treatment is not None:
            body["treatment"] = self._treatment
        told = told_by(why, self._state(hive))
        return [self.draft(kind, hive, each) for kind, each in [("skip", body), *told]]

    def queenless(self, hive: str) -> Draft:
        """Return what says that a colony has no queen."""
        return self.draft("look", hive, {"queen": "queenless"})

    def taken_back(self, spot: Spot) -> list[Draft]:
        """Return what voids all that was logged for a hive in this round, as a slip."""
        if spot.record is None:
            return []
        slip = {"reason": "slip"} if spot.record.kind == "application" else {}
        voided = self.corrected(spot, {**spot.record.body, **slip}, void=True)
        return [voided, *self.beside_taken_back(spot, *_BESIDE)]

    def beside_taken_back(self, spot: Spot, *kinds: str) -> list[Draft]:
        """Return what voids the records of `kinds` that a tap logged beside its own."""
        record, root = spot.record, spot.root
        if record is None or root is None:
            return []
        return [
            self.corrected(spot_of(spot.hive, spot.number, "done", entry), entry.holds.body, True)
            for entry in self._notebook.book.history(spot.hive, self._record.stamp)
            if entry.root.kind in kinds
            and not entry.void
            and entry.root.id != root.id
            and entry.holds.happened == record.happened
        ]

    def corrected(self, spot: Spot, body: Mapping[str, Any], void: bool = False) -> Draft:
        """Return the correction that gives a hive's record another body, or voids it.

        Raises `LookupError` where nothing was logged for the hive.
        """
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

    def draft(self, kind: str, hive: str | None, body: dict[str, Any]) -> Draft:
        """Return a draft of now, at this apiary, by this keeper."""
        apiary = self._record.apiary
        return Draft(
            kind,
            self._notebook.moment(apiary),
            self._notebook.keeper or "",
            body,
            apiary=apiary,
            hive=hive,
            colony=(self._state(hive).colony or None) if hive else None,
        )

    def pieces_in(self, hive: str) -> int | None:
        """Return how many pieces of the treatment are in a hive, None where nobody said."""
        return (
            sum(
                exposure.remaining
                for exposure in self._state(hive).exposures
                if exposure.treatment == self._treatment and exposure.open
            )
            or None
        )

    def _cleared(self) -> dict[str, str]:
        """Return whether the batch was clear, as it was answered before the round."""
        answer = self._record.body.get("checks", {}).get(CLEAR)
        return {"clear": CLEARNESS[answer]} if answer in CLEARNESS else {}

    def _supers_off(self, hive: str) -> list[Draft]:
        if self._record.body.get("checks", {}).get(SUPERS_OFF_FIRST) != "yes":
            return []
        return [
            self.draft("super_off", hive, {"mark": each.mark} if each.mark else {})
            for each in supers_of(self._state(hive))
        ]

    def _plan(self, hive: str) -> str | None:
        for course in self._state(hive).courses:
            if course.treatment == self._treatment and not course.ended and course.below:
                return course.plan or None
        return None

    def _state(self, hive: str) -> HiveState:
        return self._notebook.book.hive(hive)
