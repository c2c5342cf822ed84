"""Where a keeper who is logged in answers questions: by the code that the phone answers by.

An answer is a record of the server's own writer, signed by the keeper who gives it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Final, NamedTuple

from fieldapp.book import Asked
from fieldapp.book.answering import NUMBERS, Questions
from fieldapp.book.book import Book
from fieldapp.journal import happened
from fieldapp.journal.ids import Entropy, uuid7
from fieldapp.journal.record import Draft, Record
from fieldapp.journal.store import Journal
from fieldapp.words import Phrase, say
from fieldapp.words.speech import Speech

#: Questions whose answer is a number that was read in one place.
_READ: Final = {
    "period": say(
        "Read it on the label in hand. Without one leave this open: the honey stays closed until "
        "somebody knows."
    )
}


class Refused(Exception):
    """An answer that was not written; `phrase` says why and what to do."""

    def __init__(self, phrase: Phrase) -> None:
        super().__init__(Speech()(phrase))
        self.phrase = phrase


class Given(NamedTuple):
    """What came from a form: the key of an answer or a number, and who answers."""

    answer: str
    number: str
    keeper: str


class NumberView(NamedTuple):
    """A number to fill in, spoken; `most` is the largest that there can be."""

    words: str
    unit: str
    most: int
    read: str


class QuestionView(NamedTuple):
    """One question, spoken: what it is about, and the answers by key."""

    key: str
    words: str
    about: tuple[str, ...]
    answers: tuple[tuple[str, str], ...]
    number: NumberView | None
    hive: str


class Desk:
    """The questions of one operation, as long as its book is held.

    `operation_keeper` signs where nobody is known by name yet. `now_ms` returns milliseconds
    since 1970. It is `fieldapp.book.signing.Signing`.
    """

    def __init__(
        self,
        journal: Journal,
        book: Book,
        operation_keeper: str,
        now_ms: Callable[[], int],
        entropy: Entropy,
    ) -> None:
        self.journal = journal
        self.book = book
        self.keeper: str | None = operation_keeper
        self._now_ms = now_ms
        self._entropy = entropy
        self._questions = Questions(self)

    # What is shown

    def keepers(self) -> list[tuple[str, str]]:
        """Return those who can sign, as id and name, by name; of one name the first."""
        named: dict[str, str] = {}
        for keeper, name in sorted(self.book.shelf.keepers().items()):
            named.setdefault(name, keeper)
        return [(keeper, name) for name, keeper in sorted(named.items())]

    def questions(self, speech: Speech) -> list[QuestionView]:
        """Return the open questions, spoken."""
        return [self._view(asked, speech) for asked in self._questions.all()]

    def _view(self, asked: Asked, speech: Speech) -> QuestionView:
        number = NUMBERS.get(asked.what)
        return QuestionView(
            self._questions.key(asked),
            speech(asked.phrase),
            tuple(map(speech, self._questions.records(asked))),
            tuple((each.key, speech(each.words)) for each in self._questions.answers(asked)),
            number
            and NumberView(
                speech(number.words),
                speech(number.unit),
                number.most,
                speech(_READ[asked.what]) if asked.what in _READ else "",
            ),
            asked.hive,
        )

    # What is answered

    def answer(self, key: str, given: Given) -> None:
        """Write the answer to the question under `key`.

        Raises `Refused` where the question does not stand any more or the answer fits none.
        """
        asked = next((each for each in self._questions.all() if self._is(each, key)), None)
        if asked is None:
            raise Refused(
                say(
                    "This question was answered or has changed meanwhile. Nothing was written: "
                    "see what is asked now."
                )
            )
        self.keeper = self._signs(given.keeper)
        if asked.what in NUMBERS:
            self._questions.number(asked, _number(given.number, NUMBERS[asked.what].most))
            return
        chosen = (each for each in self._questions.answers(asked) if each.key == given.answer)
        answer = next(chosen, None)
        if answer is None:
            raise Refused(say("Choose one of the answers. Nothing was written."))
        self._questions.give(asked, answer.drafts)

    def _is(self, asked: Asked, key: str) -> bool:
        return self._questions.key(asked) == key

    def _signs(self, keeper: str) -> str | None:
        known = [each for each, _ in self.keepers()]
        if not known:
            return self.keeper
        if keeper not in known and len(known) > 1:
            raise Refused(say("Say who answers. Nothing was written."))
        return keeper if keeper in known else known[0]

    # How it is signed

    def today(self, apiary: str | None = None) -> date:
        """Return the civil date now, in the zone of an apiary."""
        return happened.civil(self.moment(apiary))

    def moment(self, apiary: str | None = None) -> str:
        """Return now as records say it, in the zone of an apiary; of the first where of none."""
        places = [place for place in self.book.apiaries(date.min) if place.zone]
        own = (place.zone for place in places if place.id == apiary)
        zone = next(own, places[0].zone if places else "UTC")
        return happened.format(self._now_ms() * 1000, zone)

    def new_id(self) -> str:
        """Return a fresh id, for a draft that another of the same transaction names."""
        return uuid7(self._now_ms(), self._entropy(10))

    def write(self, drafts: Sequence[Draft]) -> list[Record]:
        """Put drafts on the disk in one transaction, then bring the book up to date."""
        records = self.journal.write(drafts)
        self.book.refresh()
        return records


def _number(text: str, most: int) -> int:
    text = text.strip()
    if not (text.isascii() and text.isdecimal() and len(text) < 10 and int(text) <= most):
        raise Refused(say("Give a whole number from 0 to {most}. Nothing was written.", most=most))
    return int(text)
