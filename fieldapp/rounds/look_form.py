"""What is asked in taps: questions with few answers, none taken for granted.

A question that was not answered is *not known* and is left out of the record.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, Protocol

from fieldapp.husbandry.vocabulary import word
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say


class Choice(NamedTuple):
    """A question with named answers: the value a record holds, and its words.

    Where it is `needed` a record cannot do without an answer.
    """

    name: str
    words: Phrase
    options: tuple[tuple[str, Phrase | str], ...]
    needed: bool = False

    def said(self, value: Any) -> Phrase | str:
        """Return an answer in words."""
        return next((words for each, words in self.options if each == value), word(str(value)))


class Number(NamedTuple):
    """A question for a number up to `most`, in parts of 1 / `parts`.

    One with a `unit` is too large for a key a number, and is asked for digit by digit.
    """

    name: str
    words: Phrase
    most: int
    parts: int = 1
    least: int = 0
    needed: bool = False
    unit: Phrase | None = None

    def said(self, value: Any) -> Phrase | str:
        """Return an answer in words: *6 ¼*."""
        return in_parts(value)


Question = Choice | Number
#: Ends the name under which the photos of a form wait.
_PHOTOS = " photos"
_PARTS = ("", "¼", "½", "¾")


def in_parts(value: float) -> str:
    """Return a number to the quarter as it is counted: *6 ¼*; others as they are."""
    whole, part = divmod(value * 4, 4)
    if part != int(part):
        return f"{value:g}"
    if not whole and part:
        return _PARTS[int(part)]
    return f"{int(whole)} {_PARTS[int(part)]}".strip()


class Answerable(Protocol):
    """Any question: what its answer is kept under, its words, and how an answer is said."""

    @property
    def name(self) -> str:
        """What the answer is kept under."""

    @property
    def words(self) -> Phrase:
        """The question."""

    @property
    def needed(self) -> bool:
        """Whether a record cannot do without an answer."""

    def said(self, value: Any) -> Phrase | str:
        """Return an answer in words."""


class Form(Protocol):
    """What a page of questions shows and passes taps to. Nothing is written before `save`."""

    values: dict[str, Any]

    @property
    def title(self) -> Phrase:
        """What is asked, and of which hive."""

    @property
    def questions(self) -> Sequence[Answerable]:
        """The questions, in their order."""

    @property
    def remarks(self) -> Sequence[Told]:
        """What to do first, and what follows from the answers."""

    @property
    def ready(self) -> bool:
        """Whether there is something to save."""

    def take(self, name: str, value: Any) -> None:
        """Take an answer; None has it not known again."""

    def save(self) -> Phrase:
        """Write the records, and return what was done."""


class Kept:
    """Answers that survive the program: kept on the phone until they are saved or dropped.

    Photos that are taken meanwhile wait with them, under the same name, `kept_as`.
    """

    def __init__(self, notebook: Notebook, name: str, first: Mapping[str, Any] = {}) -> None:
        self._local = notebook.local
        self.kept_as = name
        self.values: dict[str, Any] = {**first, **self._local.get(name, {})}

    def take(self, name: str, value: Any) -> None:
        """Take an answer; None has it not known again."""
        if value is None:
            self.values.pop(name, None)
        else:
            self.values[name] = value
        self._local.put(self.kept_as, self.values)

    @property
    def begun(self) -> bool:
        """Whether answers are kept that were not saved."""
        return self._local.get(self.kept_as) is not None or bool(self.photos)

    def forget(self) -> None:
        """Drop what was kept."""
        self._local.put(self.kept_as, None)
        self.put_photos([])

    @property
    def photos(self) -> list[dict[str, Any]]:
        """The bodies of the photos that wait, in the order in which they were taken."""
        return list(self._local.get(self.kept_as + _PHOTOS, []))

    def put_photos(self, photos: Sequence[Mapping[str, Any]]) -> None:
        """Have these photos wait and no others."""
        self._local.put(self.kept_as + _PHOTOS, [dict(each) for each in photos] or None)


def photos_waiting(notebook: Notebook) -> set[str]:
    """Return the SHA-256 of each photo that waits with the answers of any form."""
    return {each["sha256"] for photos in notebook.local.ending(_PHOTOS) for each in photos}


def answer_words(question: Answerable, values: Mapping[str, Any]) -> Phrase | str:
    """Return the answer to a question in words; where there is none, what holds then.

    That is *not said*, but where the question has an answer of its own for it, as `unless`.
    """
    if question.name not in values:
        unless: Phrase | None = getattr(question, "unless", None)
        return unless or say("not said")
    return question.said(values[question.name])
