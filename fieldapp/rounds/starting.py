"""How a round comes to be: what is chosen and answered first, then its first records."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from fieldapp.book.label_line import LabelLine
from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.ledger import Lot
from fieldapp.rounds import cautions
from fieldapp.rounds.amounts import NOT_SAID, Amount, offered
from fieldapp.rounds.applicator import Applicator
from fieldapp.rounds.beginning import begin
from fieldapp.rounds.cautions import Answer, Check, Fact, Stop
from fieldapp.rounds.enough import told_enough
from fieldapp.rounds.giving import Did
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.options import Asked, Options
from fieldapp.rounds.passed_over import told_passed
from fieldapp.rounds.planning import Plan
from fieldapp.rounds.round import Round, Task
from fieldapp.rounds.spots import walk_order
from fieldapp.rounds.strokes import METHOD
from fieldapp.rounds.strokes_before import told_before
from fieldapp.rounds.strokes_given import Strokes, planned
from fieldapp.rounds.taking import CLEAR, lots_for, supposed
from fieldapp.rounds.terms import OWN, terms_body
from fieldapp.rounds.timers import NO_TIME, Times
from fieldapp.words import Phrase, say


@dataclass
class Start:
    """A round being set up. Nothing is written before `begin`.

    `label` is the honey line of the label in hand, asked at the first use of a treatment;
    `answers` holds the checks that were answered: the others are stored as *not known*;
    `plan` is the keeper's own plan for the course that this round begins; `lot` the batch or
    bought lot that it takes from, None where that is not known. `times` are what it takes at a
    hive, `strokes` those planned for the applicator; `did` what a round of pieces does.
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
    times: Times = NO_TIME
    strokes: Strokes | None = None
    strokes_asked: bool = False
    did: Did = "out"
    _told: tuple[object, list[Fact]] | None = field(default=None, init=False, repr=False)
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

    @classmethod
    def of_pieces(cls, notebook: Notebook, apiary: str, treatment: str, did: Did) -> Start:
        """Begin to set up a round of an apiary's hives in which pieces of a treatment are."""
        start = cls.at(notebook, apiary)
        start.task, start.treatment, start.did = "pieces", treatment, did
        start.hives = tuple(
            hive
            for hive in start.hives
            if any(
                each.open and each.treatment == treatment
                for each in notebook.book.hive(hive).exposures
            )
        )
        return start

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
    def gets(self) -> Phrase:
        """What each hive gets, in words."""
        return self.strokes.words if self.strokes is not None else self.amount.phrase()

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

    def use_last(self) -> None:
        """Take what this phone gave of this treatment last time, and the time it took."""
        kept = self.notebook.local.get(f"amount of {self.treatment}")
        if kept is not None and not self.amount_asked:
            self.take_amount(Amount(*kept))
        if self.takes_time:
            self.times = Times(*self.notebook.local.get(f"times of {self.treatment}", NO_TIME))

    @property
    def takes_time(self) -> bool:
        """Whether the method takes time at a hive, for which a timer can run."""
        return self.task == "treat" and cautions.takes_time(self.body)

    def take_times(self, times: Times) -> None:
        """Take how long it takes at a hive, as the keeper says: no label here tells it."""
        self.times = times
        self.notebook.local.put(f"times of {self.treatment}", list(times))

    @property
    def applicators(self) -> list[Strokes]:
        """The applicators that this round may be given with, with the strokes planned."""
        if self.task != "treat" or self.body["method"] != METHOD:
            return []
        return planned(self.notebook)

    @property
    def applicator_name(self) -> str:
        """What the keeper calls the applicator; empty where none was said."""
        return Applicator(self.notebook, self.strokes.gear).name if self.strokes else ""

    def turn_applicator(self) -> None:
        """Go to the next applicator; after the last, to none."""
        ways = [None, *self.applicators]
        gears = [each and each.gear for each in ways]
        at = gears.index(self.strokes and self.strokes.gear)
        self.strokes, self.strokes_asked = ways[(at + 1) % len(ways)], True

    @property
    def lots(self) -> list[Lot]:
        """The lots and batches that this round may take from."""
        if self.task != "treat" or self.body["form"] == "act":
            return []
        return lots_for(self.notebook, self.treatment, self.notebook.today(self.apiary))

    def settle_lot(self) -> None:
        """Take the only applicator with what is in it, or the only lot of this treatment.

        Only where the keeper said nothing else.
        """
        ways = self.applicators
        if not self.strokes_asked:
            self.strokes = ways[0] if len(ways) == 1 else None
        if self.lot_asked:
            return
        mix = Applicator(self.notebook, self.strokes.gear).mix if self.strokes else None
        inside = next((lot for lot in self.lots if mix is not None and lot.id == mix.id), None)
        self.lot = inside or supposed(self.lots, self.treatment)

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
        about = (self.treatment, self.hives, self.amount, self.lot and self.lot.id)
        if self._told is None or self._told[0] != about:  # a tap on a check changes none of it
            found = cautions.facts(self.body, self._states())
            if self.body["method"] == METHOD:
                found += told_before(self.notebook)
            found += told_passed(self.notebook, self.hives, self.treatment)
            found += told_enough(self.notebook, self.hives, self.amount, self.lot)
            self._told = about, found
        return self._told[1]

    def cautions(self) -> tuple[str, ...]:
        """Return the cautions of the terms; of an own label, also those of its substance."""
        told = cautions.said(self.body)
        if self.treatment.startswith(OWN):
            more = cautions.of_substance(self.body, self.notebook.library)
            told += tuple(line for line in more if line not in told)
        return told

    def checks(self) -> list[Check]:
        """Return what is asked, each on its own."""
        asked = cautions.checks(self.body, beard=None)
        if self.lot is None or not self.lot.mixed:
            return asked
        words = say("The batch, warmed and stirred: clear or cloudy?")
        first = say("Cloudy: warm it, stir, and see that it is clear before dosing")
        return [Check(CLEAR, words, say("clear"), say("cloudy"), first), *asked]

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
        return begin(self)

    def _states(self) -> Sequence[tuple[str, str, Any]]:
        book = self.notebook.book
        return [(hive, book.hive(hive).number, book.hive(hive)) for hive in self.hives]
