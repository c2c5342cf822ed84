"""What is asked at the desk: words, amounts and days beside named answers.

A question that was not answered is *not known* and is left out of the record. What is entered
is kept on this phone at once, so that a form goes on where it was.
"""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from datetime import date, timedelta
from typing import Any, NamedTuple, Protocol

from fieldapp.book import Entry
from fieldapp.husbandry.vocabulary import word
from fieldapp.journal import happened
from fieldapp.journal.record import Draft
from fieldapp.rounds.look_form import Choice, Kept, Number
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import correction_of, note_on
from fieldapp.rounds.photo_annex import with_photos
from fieldapp.rounds.told import Told
from fieldapp.rounds.wanted import wanted
from fieldapp.words import Phrase, counted, listed, say


class Written(NamedTuple):
    """A question for words of at most `most` letters; `offered` are answers to tap."""

    name: str
    words: Phrase
    most: int
    offered: tuple[str, ...] = ()
    needed: bool = False

    def said(self, value: Any) -> Phrase | str:
        """Return an answer as it is shown."""
        return word(str(value))


class Measured(NamedTuple):
    """A question for an amount of `least` to `most`, in `unit`; `offered` are amounts to tap."""

    name: str
    words: Phrase
    unit: Phrase | str
    most: float
    offered: tuple[tuple[float, Phrase], ...] = ()
    needed: bool = False
    least: float = 0

    def said(self, value: Any) -> Phrase | str:
        """Return an answer as it is shown."""
        unit = word(self.unit) if isinstance(self.unit, str) else self.unit
        return say("{amount} {unit}", amount=float(value), unit=counted(unit, float(value)))


class Dated(NamedTuple):
    """A question for a day in the years from `first` to `last`; `offered` are days to tap.

    Where `ends` is true a month alone is an answer too: its last day, as a packet means it.
    `left` is the day that it is where nobody says another.
    """

    name: str
    words: Phrase
    first: int
    last: int
    offered: tuple[date, ...] = ()
    needed: bool = False
    ends: bool = False
    left: date | None = None

    def said(self, value: Any) -> Phrase | str:
        """Return an answer as it is shown."""
        return say("{day}", day=date.fromisoformat(value))


class Several(NamedTuple):
    """A question to which any number of the named answers may be given."""

    name: str
    words: Phrase
    options: tuple[tuple[str, Phrase | str], ...]
    needed: bool = False

    def said(self, value: Any) -> Phrase | str:
        """Return the answers as they are shown."""
        return listed(words for each, words in self.options if each in value)


Question = Choice | Number | Written | Measured | Dated | Several

#: Days back that a day which is over can be tapped at once.
_DAYS_BACK = 2
#: Years back to which something can be dated.
_YEARS_BACK = 5


class Answers(Protocol):
    """What a page of one question passes its answer to."""

    @property
    def values(self) -> Mapping[str, Any]:
        """The answers so far, by the name of their question."""

    def take(self, name: str, value: Any) -> None:
        """Take an answer; None has it not known again."""


class Form(Answers, Protocol):
    """What a page of the desk shows and passes answers to. Nothing is written before `save`."""

    values: dict[str, Any]

    @property
    def title(self) -> Phrase:
        """What is asked."""

    @property
    def questions(self) -> Sequence[Question]:
        """The questions, in their order."""

    @property
    def remarks(self) -> Sequence[Told]:
        """What to do first, and what follows from the answers."""

    @property
    def wanted(self) -> Container[str]:
        """The questions whose answers the record book wants."""

    def save(self) -> Phrase:
        """Write the records, and return what was done."""

    @property
    def begun(self) -> bool:
        """Whether answers are kept that were not saved."""

    def forget(self) -> None:
        """Drop what was kept."""


def lacking(form: Form) -> list[Question]:
    """Return the questions that a form cannot be saved without."""
    return [each for each in form.questions if each.needed and each.name not in form.values]


def day_over(notebook: Notebook, name: str, words: Phrase, left: date | None = None) -> Dated:
    """Return the question for a day that is over; not asked, it is the day `left`."""
    today = notebook.today()
    recent = tuple(today - timedelta(days=n) for n in range(_DAYS_BACK + 1))
    return Dated(name, words, today.year - _YEARS_BACK, today.year, recent, left=left)


def moment_on(notebook: Notebook, day: str | None, apiary: str | None = None) -> str:
    """Return now, as records say it, on another day where one is given."""
    now = notebook.moment(apiary)
    return now if day is None else happened.on_day(now, date.fromisoformat(day))


class BookForm(Kept):
    """One record of the books being entered, or one that stands there being put right.

    `entry` is the record that is put right, `why` the reason for it. The answer to ``day`` is
    when it happened and no part of the body; `fixed` are the fields that nobody is asked for, and
    `apiary` is where it happened, for a record of one apiary.
    """

    kind = ""

    def __init__(
        self,
        notebook: Notebook,
        kept_as: str,
        *,
        fixed: Mapping[str, Any] = {},
        entry: Entry | None = None,
        apiary: str | None = None,
    ) -> None:
        first: Mapping[str, Any] = {}
        if entry is not None:
            # Put right meanwhile by somebody else, it begins anew.
            kept_as = f"{kept_as} {entry.root.id} {len(entry.corrections)}"
            first = entry.holds.body if notebook.local.get(kept_as) is None else {}
        super().__init__(notebook, kept_as, first)
        self._notebook = notebook
        self._fixed = dict(fixed)
        self.entry = entry
        self.apiary = apiary
        self.why = ""

    @property
    def title(self) -> Phrase:
        """What is asked."""
        raise NotImplementedError

    @property
    def questions(self) -> Sequence[Question]:
        """The questions, in their order."""
        raise NotImplementedError

    @property
    def remarks(self) -> Sequence[Told]:
        """What follows from the answers so far."""
        return ()

    @property
    def wanted(self) -> Container[str]:
        """The questions whose answers the record book wants."""
        return wanted(self._notebook, self.kind)

    @property
    def day(self) -> date:
        """The day that it is written down for."""
        if "day" in self.values:
            return date.fromisoformat(self.values["day"])
        if self.entry is not None:
            return happened.civil(self.entry.holds.happened)
        return self._notebook.today(self.apiary)

    def day_asked(self, words: Phrase) -> Dated:
        """Return the question for that day, which is open to another answer."""
        return day_over(self._notebook, "day", words, self.day)

    def body(self) -> dict[str, Any]:
        """Return the body of the record as answered."""
        asked = {question.name for question in self.questions} - {"day"}
        values = {name: value for name, value in self.values.items() if name in asked}
        kept = self.entry.holds.body if self.entry is not None else {}
        left = {name: value for name, value in kept.items() if name not in asked}
        return {**left, **self._fixed, **values}

    def drafts(self) -> list[Draft]:
        """Return the records as answered: the new one, or the correction with its reason."""
        notebook = self._notebook
        if self.entry is None:
            moment = moment_on(notebook, self.values.get("day"), self.apiary)
            keeper = notebook.keeper or ""
            return [Draft(self.kind, moment, keeper, self.body(), apiary=self.apiary)]
        held = self.entry.holds
        draft = correction_of(self.entry, held, self.body(), void=False)
        if self.day != happened.civil(held.happened):
            draft = draft._replace(happened=happened.on_day(held.happened, self.day))
        return [draft, note_on(notebook, self.entry, self.why or "other")]

    def save(self) -> Phrase:
        """Write it down."""
        self._notebook.write(with_photos(self._notebook, self.drafts(), self.photos))
        self.forget()
        return say("Written down") if self.entry is None else say("Put right")
