"""Hives moved to another apiary, one or all in one act, and hives that are gone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from fieldapp.book import Place, Stop
from fieldapp.journal.record import Draft
from fieldapp.rounds.desk_form import Written
from fieldapp.rounds.happening.choosing import HiveKey, Question, SomeHives
from fieldapp.rounds.happening.happening import Happening
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.look_questions import ENDED
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.setup import next_number, next_stand
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, listed, say

_FREE, _SAME = "free", "same"


def attributes(notebook: Notebook, hive: str) -> dict[str, Any]:
    """Return what the latest record of a hive's number and place says of it."""
    for entry in notebook.book.history(hive):
        if entry.root.kind == "hive" and not entry.void:
            return {name: value for name, value in entry.holds.body.items() if name in _LASTING}
    return {"number": notebook.book.hive(hive).number}


#: What stays true of a hive wherever it stands.
_LASTING = frozenset({"number", "boxes", "type", "stand"})


class Moved(Happening):
    """Hives of one apiary are moved to another: this one, or as many as are chosen."""

    kind = "hive"
    moves = True
    name = say("moved to another apiary")

    def __init__(self, notebook: Notebook, apiary: str, hive: str = "") -> None:
        super().__init__(notebook, hive or apiary, "moving")
        self._apiary = apiary
        self._first = hive
        if hive and "hives" not in self.values:
            self.values["hives"] = [hive]

    @property
    def title(self) -> Phrase:
        """Which hives, or from where."""
        if self._first:
            return super().title
        return say("{apiary}: move hives", apiary=self._notebook.place_name(self._apiary))

    @property
    def today(self) -> date:
        """The day of the entry, where the hives stand."""
        return self._notebook.today(self._apiary)

    @property
    def apiaries(self) -> list[str]:
        """Where they come from, and where they go."""
        to = self.values.get("apiary")
        return [self._apiary, *([str(to)] if to else [])]

    @property
    def possible(self) -> bool:
        """Whether there is another apiary, and a hive to move."""
        return bool(self._elsewhere and self._stops)

    @property
    def asked(self) -> Sequence[Question]:
        """Which hives, where to, and their numbers where some are used there."""
        places = tuple((each.id, each.name) for each in self._elsewhere)
        stops = tuple(
            HiveKey(stop.hive, stop.number, say("dead") if stop.dead else None)
            for stop in self._stops
        )
        asked: list[Question] = [
            SomeHives("hives", say("Which hives"), stops, needed=True),
            Choice("apiary", say("To which apiary"), places, needed=True),
        ]
        if self._twice:
            options = (
                (_FREE, say("the next free numbers")),
                (_SAME, say("the same number twice there")),
            )
            asked.append(Choice("numbers", say("Their numbers there"), options, needed=True))
        return asked

    @property
    def remarks(self) -> Sequence[Told]:
        """Say why it cannot be, which numbers are used, and what to ask before."""
        if not self._stops:
            return (Told("unknown", say("No hive stands here by the records.")),)
        if not self._elsewhere:
            words = say("There is no other apiary. Add it first, under Home, Apiaries.")
            return (Told("unknown", words),)
        asked = say(
            "Before bees are moved: many countries want a health certificate or a report. "
            "Ask your veterinary office."
        )
        told = [Told("quiet", asked)]
        if self._twice:
            numbers = ", ".join(self._twice)
            words = count(
                "Number {numbers} is used there already.",
                "Numbers {numbers} are used there already.",
                len(self._twice),
                numbers=numbers,
            )
            told.insert(0, Told("late", words))
        if self.ready and (painted := self._renumbered()):
            words = say("Paint the new numbers: {numbers}", numbers=listed(painted))
            told.append(Told("due", words))
        return told

    def _renumbered(self) -> list[Phrase]:
        """Return which numbers become which there."""
        numbers = {stop.hive: stop.number for stop in self._chosen}
        return [
            say("{old} becomes {new}", old=numbers[each.hive], new=each.body["number"])
            for each in self.drafts()
            if each.hive is not None and numbers[each.hive] != each.body["number"]
        ]

    @property
    def _stops(self) -> list[Stop]:
        return self._notebook.book.walk(self._apiary, self.today)

    @property
    def _elsewhere(self) -> list[Place]:
        same = self._notebook.book.place(self._apiary)
        here = same.id if same is not None else self._apiary
        return [each for each in self._notebook.book.apiaries(self.today) if each.id != here]

    @property
    def _chosen(self) -> list[Stop]:
        hives = self.values.get("hives", ())
        return [stop for stop in self._stops if stop.hive in hives]

    @property
    def _used(self) -> set[str]:
        to = self.values.get("apiary")
        stops = self._notebook.book.walk(str(to), self.today) if to else []
        return {stop.number for stop in stops}

    @property
    def _twice(self) -> list[str]:
        """The numbers of chosen hives that are used where they go."""
        used = self._used
        return [stop.number for stop in self._chosen if stop.number in used]

    @property
    def ready(self) -> bool:
        """Whether hives and an apiary were chosen, and what becomes of numbers used twice."""
        return super().ready and bool(self._chosen)

    def drafts(self) -> list[Draft]:
        """Return the new place of each hive, in the order of the walk."""
        to, found = str(self.values["apiary"]), []
        stand, used = next_stand(self._notebook, to), self._used
        number = next_number(self._notebook, to)
        own = [int(stop.number) for stop in self._chosen if stop.number.isdecimal()]
        number = max([number, *(each + 1 for each in own)])
        for stop in self._chosen:
            body = attributes(self._notebook, stop.hive) | {"stand": stand}
            stand += 1
            if stop.number in used and self.values.get("numbers") == _FREE:
                body["number"] = str(number)
                number += 1
            found.append(self.draft("hive", stop.hive, body, to))
        return found


class Gone(Happening):
    """A hive is gone: sold, given away, broken up, lost, burnt."""

    kind = "hive"
    moves = True
    name = say("hive gone")

    def __init__(self, notebook: Notebook, hive: str) -> None:
        super().__init__(notebook, hive, "going")

    @property
    def asked(self) -> Sequence[Question]:
        """Why, and who has it now."""
        asked: list[Question] = [ENDED]
        if self.values.get("ended") in ("sold", "given away"):
            asked.append(Written("to_whom", say("To whom"), 200))
        return asked

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what is asked of those who pass bees on."""
        if self.values.get("ended") not in ("sold", "given away"):
            return ()
        words = say(
            "Who gets it should know what is closed and exposed, and what is in it. Many "
            "countries want a health certificate: ask your veterinary office."
        )
        return (Told("quiet", words),)

    def drafts(self) -> list[Draft]:
        """Return the end of the hive, with the number that it had."""
        names = {question.name for question in self.asked}
        said = {name: value for name, value in self.values.items() if name in names}
        return [self.draft("hive", self.hive, attributes(self._notebook, self.hive) | said)]
