"""A use that no round logged: which hives got how much of a lot, and on which day."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from fieldapp.book.label_line import MOST_DAYS, LabelLine
from fieldapp.husbandry.amounts import PIECE_UNITS, units
from fieldapp.husbandry.ledger import Lot
from fieldapp.husbandry.vocabulary import DAYS
from fieldapp.journal.record import Draft
from fieldapp.rounds.amounts import Amount, offered
from fieldapp.rounds.choosing import treatments
from fieldapp.rounds.desk_form import (
    BookForm,
    Measured,
    Question,
    Several,
    moment_on,
)
from fieldapp.rounds.look_form import Choice, Number
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.taking import in_lots_unit
from fieldapp.rounds.terms import terms_body
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

#: What a dose may be of, where it is taken from a lot or a batch as it is.
_OF_LOT = frozenset({"product", "solution", "piece"})
_OF_BATCH = frozenset({"solution"})
_SUPERS = (("off", say("off")), ("on", say("on")), ("not known", say("not known")))


class Use(BookForm):
    """Hives that were treated from a lot outside a round; a `Form`.

    It writes one application a hive, as a round would: dates, honey and stock follow from it.
    """

    kind = "application"

    def __init__(self, notebook: Notebook, lot: Lot) -> None:
        super().__init__(notebook, f"use {lot.id}")
        self._lot = lot
        self._known = treatments(notebook, notebook.country)
        if lot.treatment:
            self.values = {"treatment": lot.treatment, **self.values}

    @property
    def title(self) -> Phrase:
        """What is asked."""
        return say("Used outside a round: {lot}", lot=self._lot.name)

    @property
    def questions(self) -> Sequence[Question]:
        """Which hives, how much each, when; whether supers were on; honey at the first use."""
        asked: list[Question] = []
        if not self._lot.treatment:
            named = tuple((each.identity, each.name) for each in self._known)
            asked.append(Choice("treatment", say("As which treatment"), named, needed=True))
        asked += [
            Several("hives", say("Which hives"), self._hives(), needed=True),
            Measured("each", say("How much each"), self._lot.unit, 1e6, needed=True),
            self.day_asked(say("On which day")),
            Choice("supers", say("Honey supers were"), _SUPERS, needed=True),
        ]
        treatment = self.values.get("treatment")
        if treatment and treatment not in self._notebook.book.terms():
            words = say("Days to wait for honey, on the label in hand")
            asked.append(Number("label", words, MOST_DAYS, unit=DAYS))
        return asked

    @property
    def remarks(self) -> Sequence[Told]:
        """Send who is about to treat to a round; say what it takes and what is left."""
        words = say("For what was given already. Begin a round to treat: it says what can hurt")
        told = [Told("quiet", words)]
        taken = self._taken
        if taken is not None:
            unit, left = self._lot.unit, self._lot.on_hand
            words = say(
                "Together: {n} {unit}, {left} on hand", n=taken, unit=units(unit, taken), left=left
            )
            told.append(Told("late" if taken > left else "quiet", words))
        last = self._lot.last_day
        if last is not None and self.day > last:
            words = say("Its last day was {day}: it is written down as used after it", day=last)
            told.append(Told("late", words))
        return told

    @property
    def _taken(self) -> float | None:
        if "each" not in self.values or not self.values.get("hives"):
            return None
        return round(float(self.values["each"]) * len(self.values["hives"]), 6)

    def _hives(self) -> tuple[tuple[str, str], ...]:
        """Return every hive in use by number, with its apiary where there are several."""
        notebook = self._notebook
        places = notebook.book.apiaries(notebook.today())
        found = []
        for place in places:
            for stop in notebook.book.walk(place.id, self.day):
                name = f"{place.name} {stop.number}" if len(places) > 1 else stop.number
                found.append((stop.hive, name))
        return tuple(found)

    def drafts(self) -> list[Draft]:
        """Return the terms at a first use, the label's line, and an application a hive."""
        notebook, treatment = self._notebook, str(self.values["treatment"])
        body = terms_body(notebook, treatment)
        known = notebook.book.terms().get(treatment)
        drafts: list[Draft] = []
        terms = known.id if known is not None else notebook.new_id()
        if known is None:
            first = Draft("terms", self._moment(None), notebook.keeper or "", body, id=terms)
            drafts.append(first)
        if (label := self.values.get("label")) is not None:
            apiary = notebook.book.hive(self.values["hives"][0]).apiary or ""
            line = LabelLine(label)
            drafts.append(line.draft(notebook, treatment, body["name"], apiary))
        given = self._given(body["values"])
        for hive in self.values["hives"]:
            state = notebook.book.hive(hive)
            drafts.append(
                Draft(
                    "application",
                    self._moment(state.apiary),
                    notebook.keeper or "",
                    {
                        "treatment": treatment,
                        "terms": terms,
                        "supers": self.values["supers"],
                        **given,
                    },
                    apiary=state.apiary,
                    hive=hive,
                    colony=state.colony or None,
                )
            )
        return drafts

    def _moment(self, apiary: str | None) -> str:
        return moment_on(self._notebook, self.values.get("day"), apiary)

    def _given(self, values: Mapping[str, Any]) -> dict[str, Any]:
        """Return the fields that say what each hive got and from which lot.

        The dose is said only where the label's own unit can be told from the lot's.
        """
        each, lot = float(self.values["each"]), self._lot
        dose = _as_dosed(each, lot, offered(values))
        fields: dict[str, Any] = {} if dose is None else dose.body(None)
        if lot.mixed:
            if dose is None:
                # Of a batch the dose is the one place that says how much was taken.
                fields = {
                    "dose": {"amount": each, "unit": lot.unit, "of": "solution", "per": "colony"}
                }
            return {**fields, "batch": lot.id}
        return {**fields, "drawn": [{"lot": lot.id, "amount": each, "unit": lot.unit}]}


def _as_dosed(each: float, lot: Lot, doses: Sequence[Amount]) -> Amount | None:
    """Return what a hive got as the label doses it; None where the lot cannot tell.

    What the label doses by its active substance cannot be told from grams of a product.
    """
    for dose in doses:
        if dose.of not in (_OF_BATCH if lot.mixed else _OF_LOT):
            continue
        one = in_lots_unit(1.0, dose.unit, lot)
        if not one:
            continue
        amount = round(each / one, 6)
        if dose.unit in PIECE_UNITS and amount != math.floor(amount):
            return None
        return Amount(amount, dose.unit, dose.of, "colony")
    return None
