"""A dispenser weighed while its acid evaporates: how much a day, and what is still to go."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from fieldapp.book import Entry
from fieldapp.husbandry.amounts import number_of
from fieldapp.husbandry.errors import HusbandryError
from fieldapp.husbandry.evaporation import (
    Evaporated,
    Rate,
    Stretch,
    Weighing,
    evaporated,
    lasts,
    rates,
)
from fieldapp.husbandry.vocabulary import DAYS, word
from fieldapp.journal import happened
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.errors import TreatmentGone
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.taking import last_counted
from fieldapp.rounds.terms import terms_body
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, say

_DAY_US = 86_400_000_000
#: Weighed again within an hour, the later one counts: that is how a slip is put right.
AGAIN_US = 3_600_000_000
_SAYS: dict[str, tuple[Sign, Phrase]] = {
    "right": ("done", say("as the label wants")),
    "too little": ("late", say("too little")),
    "too much": ("late", say("too much")),
}


class Dispenser:
    """The dispenser that stands in a hive, and its weighings."""

    def __init__(self, notebook: Notebook, hive: str, entry: Entry, terms: dict[str, Any]) -> None:
        self._notebook = notebook
        self.hive = hive
        self.number = notebook.book.hive(hive).number
        self._entry = entry
        self._rates = rates(terms)
        self.name: str = terms["name"]

    @classmethod
    def of(cls, notebook: Notebook, hive: str) -> Dispenser | None:
        """Return the dispenser in a hive whose label asks for g a day; None where none is in."""
        state = notebook.book.hive(hive)
        inside = {each.id: each.treatment for each in state.exposures if each.open}
        for entry in notebook.book.history(hive) if inside else ():
            treatment = inside.get(entry.root.id)
            if treatment is None or entry.void:
                continue
            try:
                terms = terms_body(notebook, treatment)
            except TreatmentGone:
                continue
            if rates(terms):
                return cls(notebook, hive, entry, terms)
        return None

    @property
    def weighings(self) -> list[Weighing]:
        """The weighings, oldest first, in days since the first; of one hour the last counts."""
        annexes = [each for each in self._entry.annexes if each.kind == "weighed"]
        moments = sorted((happened.instant(each.happened), _grams(each)) for each in annexes)
        held = [one for one, two in pairwise(moments) if two[0] - one[0] > AGAIN_US]
        held += moments[-1:]
        return [Weighing((at - held[0][0]) / _DAY_US, grams) for at, grams in held]

    def weigh(self, grams: float) -> None:
        """Write a weighing down."""
        held = self._entry.holds
        draft = Draft(
            "weighed",
            self._notebook.moment(held.apiary),
            self._notebook.keeper or "",
            {"grams": grams},
            apiary=held.apiary,
            hive=held.hive,
            adds_to=self._entry.root.id,
        )
        self._notebook.write([draft])
        fresh = self.of(self._notebook, self.hive)
        if fresh is not None:
            self._entry = fresh._entry

    def told(self) -> list[Told]:
        """Return what went since it was filled last, and what the label's total still wants."""
        fillings = _fillings(self.weighings)
        if not fillings or len(fillings[-1]) < 2:
            first = say("Weigh it filled as it goes in, and again each day or two.")
            return [Told("due", first), *(_lasting(*each) for each in self._rates)]
        boxes = last_counted(self._notebook, self.hive, "box")
        if boxes is None:
            words = say("How many boxes the hive has is not known: enter it in a look.")
            return [Told("unknown", words)]
        earlier = sum(each[0].grams - each[-1].grams for each in fillings[:-1])
        told: list[Told] = []
        for season, rate in self._rates:
            rest = rate._replace(total=max(rate.total - earlier / boxes, 0.0))
            try:
                found = evaporated(fillings[-1], rest, boxes)
            except HusbandryError as error:
                return [Told("late", error.phrase)]
            told += _of_season(season, rate, found)
            still = found.still
        return [*_went(found, earlier), *told, _still(found, still)]


def _grams(record: Record) -> float:
    return float(record.body["grams"])


def _fillings(weighings: Sequence[Weighing]) -> list[list[Weighing]]:
    """Return the weighings filling by filling: one that is heavier was filled again."""
    fillings: list[list[Weighing]] = []
    for each in weighings:
        if fillings and each.grams <= fillings[-1][-1].grams:
            fillings[-1].append(each)
        else:
            fillings.append([each])
    return fillings


def _lasting(season: str, rate: Rate) -> Told:
    few, many = (round(days) for days in lasts(rate))
    words = say(
        "{season}: {total} g a box last {few} to {many} days",
        season=word(season),
        total=rate.total,
        few=few,
        many=many,
    )
    return Told("quiet", words)


def _went(found: Evaporated, earlier: float) -> list[Told]:
    last = found.stretches[-1]
    return [
        Told("quiet", say("Gone so far: {grams} g", grams=round(found.grams + earlier))),
        Told("quiet", say("Last: {grams} g a day", grams=round(last.per_day, 1))),
    ]


def _of_season(season: str, rate: Rate, found: Evaporated) -> list[Told]:
    last: Stretch = found.stretches[-1]
    sign, words = _SAYS[last.says]
    bounds = say(
        "{least} to {most} g a box and day; up to {times} times that in the first {days} days",
        least=rate.least,
        most=rate.most,
        times=rate.lively_factor,
        days=rate.lively_days,
    )
    return [Told(sign, say("{season}: {words}", season=word(season), words=words), (bounds,))]


def _still(found: Evaporated, still: float) -> Told:
    if still <= 0:
        return Told("due", say("The whole amount is gone: take it out."))
    if found.days_left is None:
        return Told(
            "late", say("Still {grams} g to go, and nothing evaporates.", grams=round(still))
        )
    words = say(
        "Still {grams} g to go: about {days} at this pace",
        grams=round(still),
        days=number_of(round(found.days_left), DAYS),
    )
    return Told("quiet", words)
