"""A record being put right or taken back: what is otherwise, then why.

A correction names the root record and the heads that the keeper saw; nothing is changed
in place.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Any, Protocol

from fieldapp.book import Entry
from fieldapp.journal import happened
from fieldapp.journal.record import Draft
from fieldapp.rounds.look_form import Choice, Question
from fieldapp.rounds.look_questions import OF_KIND
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import correction_of, note_on
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

#: Days to which a record can be moved in taps, either way.
_DAYS_BACK = 14
_SAME_DAY = "0"


class PutRight(Protocol):
    """What can be saved once it was said why."""

    why: str

    def save(self) -> Phrase:
        """Write the correction and its reason."""


class Correction:
    """A record being put right; a `Form`. `why` is asked last, and without it nothing is saved."""

    def __init__(self, notebook: Notebook, entry: Entry) -> None:
        self._notebook = notebook
        self._entry = entry
        held = entry.holds
        own = OF_KIND.get(held.kind, ())
        self._own = {question.name for question in own}
        self.values: dict[str, Any] = {
            name: value for name, value in held.body.items() if name in self._own
        }
        self.values |= {"day": _SAME_DAY, "hive": held.hive}
        self._first = dict(self.values)
        self._questions = own
        self.why = ""

    @property
    def title(self) -> Phrase:
        """What is put right."""
        number = self._notebook.book.hive(self._entry.holds.hive or "").number
        return say("Hive {number}: put right", number=number)

    @property
    def questions(self) -> Sequence[Question]:
        """What the record says, its day, and its hive."""
        return (*self._questions, self._day, self._hive)

    @property
    def remarks(self) -> Sequence[Told]:
        """Say that the first version stays in sight."""
        return (Told("quiet", say("What stood before stays in the history.")),)

    @property
    def ready(self) -> bool:
        """Whether anything is otherwise than the record has it."""
        return self.values != self._first

    def take(self, name: str, value: Any) -> None:
        """Take an answer; None leaves it out of the record."""
        if value is None:
            self.values.pop(name, None)
        else:
            self.values[name] = value

    def save(self) -> Phrase:
        """Write the correction and its reason."""
        held = self._entry.holds
        body = {name: value for name, value in held.body.items() if name not in self._own}
        body |= {name: value for name, value in self.values.items() if name in self._own}
        draft = correction_of(self._entry, held, body, void=False)
        if self.values["day"] != _SAME_DAY:
            day = happened.civil(held.happened) + timedelta(days=int(self.values["day"]))
            draft = draft._replace(happened=happened.on_day(held.happened, day))
        if self.values["hive"] != held.hive:
            state = self._notebook.book.hive(self.values["hive"])
            draft = draft._replace(
                apiary=state.apiary, hive=state.hive, colony=state.colony or None
            )
        self._notebook.write([draft, note_on(self._notebook, self._entry, self.why or "other")])
        return say("Put right")

    def voided(self, why: str) -> list[Draft]:
        """Return what takes the record back, with the reason beside it."""
        held = self._entry.holds
        body = dict(held.body)
        if held.kind == "application":
            body["reason"] = why
        draft = correction_of(self._entry, held, body, void=True)
        return [draft, note_on(self._notebook, self._entry, why)]

    def void(self, why: str) -> None:
        """Take the record back."""
        self._notebook.write(self.voided(why))

    @property
    def _day(self) -> Choice:
        day = happened.civil(self._entry.holds.happened)
        today = self._notebook.today(self._entry.holds.apiary)
        moves = [
            (n, day + timedelta(days=n))
            for n in range(-_DAYS_BACK, _DAYS_BACK + 1)
            if day + timedelta(days=n) <= max(today, day)
        ]
        options = tuple((str(n), say("{day}", day=moved)) for n, moved in moves)
        return Choice("day", say("Day"), options, needed=True)

    @property
    def _hive(self) -> Choice:
        held = self._entry.holds
        stops = self._notebook.book.walk(held.apiary or "", self._notebook.today(held.apiary))
        return Choice(
            "hive",
            say("Hive"),
            tuple((stop.hive, stop.number) for stop in stops),
            needed=True,
        )
