"""Questions to the keeper on the phone: those of the records, and that of its own clock."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.book import answering
from fieldapp.book.answering import Answer
from fieldapp.book.answers import Asked
from fieldapp.journal.record import Draft
from fieldapp.rounds.clock_question import ClockQuestion
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase


class Answered(RoundsError, LookupError):
    """A question that was answered meanwhile, here or on another phone."""


class Questions(answering.Questions):
    """The questions as they stand on this phone, and what answers each."""

    def __init__(self, notebook: Notebook) -> None:
        super().__init__(notebook)
        self._clock = ClockQuestion(notebook)

    def all(self) -> list[Asked]:
        """Return the open questions, that of the clock first: the others rest on its days."""
        return [*self._clock.asked(), *super().all()]

    def records(self, asked: Asked) -> list[Phrase]:
        """Return what a question is about, in words."""
        return self._clock.told() if asked.what == "clock" else super().records(asked)

    def answers(self, asked: Asked) -> list[Answer]:
        """Return the answers to choose from; empty where the hive has to be looked at."""
        return self._clock.answers(asked) if asked.what == "clock" else super().answers(asked)

    def give(self, asked: Asked, drafts: Sequence[Draft]) -> None:
        """Write an answer. Raises `Answered` where the question does not stand any more."""
        try:
            super().give(asked, drafts)
        except answering.Answered as wrong:
            raise Answered(wrong.phrase) from wrong
        if asked.what == "clock":
            self._clock.settle(asked)
