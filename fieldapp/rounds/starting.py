"""How a round comes to be: what is chosen and answered first, then its first records."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from fieldapp.book.label_line import LabelLine
from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.ledger import Lot
from fieldapp.journal.record import Draft
from fieldapp.rounds import cautions
from fieldapp.rounds.amounts import NOT_SAID, Amount, offered
from fieldapp.rounds.cautions import Answer, Check, Fact, Stop
from fieldapp.rounds.enough import told_enough
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.options import Asked, Options
from fieldapp.rounds.planning import Plan
from fieldapp.rounds.round import Round, Task
from fieldapp.rounds.spots import walk_order
from fieldapp.rounds.strokes import METHOD
from fieldapp.rounds.strokes_before import told_before
from fieldapp.rounds.taking import CLEAR, lots_for, supposed
from fieldapp.rounds.terms import terms_body
from fieldapp.words import say


@dataclass
class Start:
    """A round being set up. Nothing is written before `begin`.

    `label` is the honey line of the label in hand, asked at the first use of a treatment;
    `answers` holds the checks that were answered: the others are stored as *not known*;
    `plan` is the keeper's own plan for the course that this round begins; `lot` the batch or
    bought lot that it takes from, None where that is not known.
    """

    notebook: Notebook
    apiary: str
    task: Task = "treat"
    treatment: str = ""
    hives: tuple[str, ...] = ()
    amount: Amount = NOT_SAID
    amount_asked: bool = False
    label: LabelLine | None = None
    label_asked: bool = False
    plan: Plan | None = None
    lot: Lot | None = None
    lot_asked: bool = False
    answers: dict[str, Answer] = field(default_factory=dict)
    met: dict[str, Answer] = field(default_factory=dict)

    @classmethod
    def at(cls, notebook: Notebook, apiary: str) -> Start:
        """Begin to set up a round over all hives of an apiary."""
        stops = notebook.book.walk(apiary, notebook.today(apiary))
        return cls(notebook, apiary, hives=tuple(walk_order(stops)))

    @classmethod
    def for_line(cls, notebook: Notebook, line: Line) -> Start:
        """Begin to set up the round that a line of the agenda asks for, in walk order."""
        apiary = line.apiary or ""
        stops = notebook.book.walk(apiary, notebook.today(apiary))
        order = [stop.hive for stop in stops if stop.hive in line.hives]
        return cls(
            notebook,
            apiary,
            task="pieces" if line.task == "remove" else "treat",
            treatment=line.treatment or "",
            hives=tuple(order + [hive for hive in line.hives if hive not in order]),
        )

    @property
    def place(self) -> str:
        """The name of the apiary."""
        return self.notebook.place_name(self.apiary)

    @property
    def body(self) -> dict[str, Any]:
        """The terms of the treatment: those fixed at its first use, else the library's.

        Raises `TreatmentGone` where neither has it.
        """
        return terms_body(self.notebook, self.treatment)

    @property
    def options(self) -> Options:
        """What each treatment says to the hives of this round."""
        alive = {
            stop.hive
            for stop in self.notebook.book.walk(self.apiary, self.notebook.today(self.apiary))
            if not stop.dead
        }
        said = Asked(self.notebook, self.apiary).said
        if alive <= set(self.hives):
            said = said._replace(all_at_once=True)
        return Options(self.notebook, self.apiary, self.hives, said=said)

    @property
    def first_use(self) -> bool:
        """Whether the line of the label in hand is to be asked for."""
        return self.task == "treat" and self.treatment not in self.notebook.book.terms()

    @property
    def plannable(self) -> bool:
        """Whether the keeper may plan a course of several: given at once, and none under way."""
        if self.task != "treat" or self.body["form"] != "dose":
            return False
        return not any(
            course.treatment == self.treatment and course.below and not course.ended
            for _, _, state in self._states()
            for course in state.courses
        )

    @property
    def amounts(self) -> list[Amount]:
        """What may be given; more than one is a question."""
        return offered(self.body["values"]) if self.task == "treat" else []

    def take_amount(self, amount: Amount | None) -> None:
        """Take what each hive gets; None where the keeper records no amount."""
        self.amount = amount or NOT_SAID
        self.amount_asked = True

    def settle_amount(self) -> None:
        """Take the only amount there is, where it was not asked for."""
        if not self.amount_asked:
            amounts = self.amounts
            self.take_amount(amounts[0] if amounts else None)

    def use_last_amount(self) -> None:
        """Take what this phone gave of this treatment last time, if it did."""
        kept = self.notebook.local.get(f"amount of {self.treatment}")
        if kept is not None and not self.amount_asked:
            self.take_amount(Amount(*kept))

    @property
    def lots(self) -> list[Lot]:
        """The lots and batches that this round may take from."""
        if self.task != "treat" or self.body["form"] == "act":
            return []
        return lots_for(self.notebook, self.treatment, self.notebook.today(self.apiary))

    def settle_lot(self) -> None:
        """Take the only lot of this treatment, where the keeper said nothing else."""
        if not self.lot_asked:
            self.lot = supposed(self.lots, self.treatment)

    def turn_lot(self) -> None:
        """Go to the next lot; after the last, to none."""
        lots = [None, *self.lots]
        ids = [each and each.id for each in lots]
        at = ids.index(self.lot and self.lot.id) if (self.lot and self.lot.id) in ids else 0
        self.lot, self.lot_asked = lots[(at + 1) % len(lots)], True
        self.answers.pop(CLEAR, None)

    def label_says(self, label: LabelLine | None) -> None:
        """Take the line of the label in hand; None: not on it, or not known."""
        self.label, self.label_asked = label, True

    @property
    def library_days(self) -> tuple[int, str] | None:
        """The library's period for honey in days and its standing; None where it has none."""
        entry = self.body["values"].get("period")
        if entry is None or entry["value"].get("days") is None:
            return None
        return entry["value"]["days"], entry["standing"]

    def facts(self) -> list[Fact]:
        """Return what the records say that bears on this round."""
        if self.task != "treat":
            return []
        found = cautions.facts(self.body, self._states())
        if self.body["method"] == METHOD:
            found += told_before(self.notebook)
        if self.answers.get(CLEAR) == "no":
            words = say("Cloudy: warm it, stir, and see that it is clear before dosing")
            found.append(Fact(words, "late"))
        return found + told_enough(self.notebook, self.hives, self.amount, self.lot)

    def cautions(self) -> tuple[str, ...]:
        """Return the cautions of the terms."""
        return cautions.said(self.body)

    def checks(self) -> list[Check]:
        """Return what is asked, each on its own."""
        asked = cautions.checks(self.body, beard=None)
        if self.lot is not None and self.lot.mixed:
            asked.append(Check(CLEAR, say("The batch is clear: warmed, stirred, looked at")))
        return asked

    def stops(self) -> list[Stop]:
        """Return the stops that were not met with an answer yet."""
        if self.task != "treat":
            return []
        return [
            stop for stop in cautions.stops(self.body, self._states()) if stop.key not in self.met
        ]

    def answer(self, key: str, answer: Answer) -> None:
        """Take the answer to a check."""
        self.answers[key] = answer

    def leave_out(self, stop: Stop) -> None:
        """Meet a stop by leaving its hives out of this round."""
        self.hives = tuple(hive for hive in self.hives if hive not in stop.hives)
        self.met[stop.key] = "no"

    def accept(self, stop: Stop) -> None:
        """Meet a stop by the keeper's word that it is dealt with at each hive."""
        self.met[stop.key] = "yes"

    def begin(self) -> Round:
        """Write the round's first records, all in one transaction, and return the round."""
        notebook = self.notebook
        body = self.body
        drafts: list[Draft] = []
        if self.treatment not in notebook.book.terms():
            drafts.append(self._draft("terms", body))
        if self.label is not None:
            drafts.append(self.label.draft(notebook, self.treatment, body["name"], self.apiary))
        planned = {}
        if self.plan is not None:
            planned["plan"] = notebook.new_id()
            drafts.append(self._draft("plan", self.plan.body)._replace(id=planned["plan"]))
        drafts.append(
            self._draft(
                "round",
                {
                    "treatment": self.treatment,
                    "task": self.task,
                    "hives": list(self.hives),
                    **planned,
                    **({"batch": self.lot.id} if self.lot is not None and self.lot.mixed else {}),
                    "checks": {
                        check.key: self.answers.get(check.key, "not known")
                        for check in self.checks()
                    }
                    | self.met,
                },
            )
        )
        record = notebook.write(drafts)[-1]
        lot = self.lot.id if self.lot is not None else None
        kept = {"round": record.id, "amount": list(self.amount), "lot": lot}
        notebook.local.put("amount", kept)
        notebook.local.put(f"amount of {self.treatment}", list(self.amount))
        notebook.local.put("round", record.id)
        notebook.local.put("apiary", self.apiary)
        return Round(notebook, record)

    def _draft(self, kind: str, body: dict[str, Any]) -> Draft:
        return Draft(
            kind,
            self.notebook.moment(self.apiary),
            self.notebook.keeper or "",
            body,
            apiary=self.apiary,
        )

    def _states(self) -> Sequence[tuple[str, str, Any]]:
        book = self.notebook.book
        return [(hive, book.hive(hive).number, book.hive(hive)) for hive in self.hives]


def under_way(notebook: Notebook) -> Round | None:
    """Return the round that this phone was in when it was last used, if it has not ended."""
    kept = notebook.local.get("round")
    if not isinstance(kept, str):
        return None
    record = notebook.journal.by_id(kept)
    if record is None or record.kind != "round":
        return None
    return Round(notebook, record)
