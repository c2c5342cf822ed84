"""Questions that only the keeper can answer, and the records that answer them.

Until one is answered the rules take the worse, so none has to be answered in a hurry.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from fieldapp.book.answers import Asked
from fieldapp.journal import happened
from fieldapp.journal.corrections import Version, versions
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.amounts import measured
from fieldapp.rounds.choosing import LabelLine
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, say

#: Asked for as a number, with its unit.
NUMBERS: dict[str, tuple[Phrase, Phrase]] = {
    "split": (say("How many pieces went along?"), say("pieces")),
    "period": (say("Days on the label"), say("days")),
}


class Answered(RoundsError, LookupError):
    """A question that was answered meanwhile, here or on another phone."""

    def __init__(self) -> None:
        super().__init__(say("This question is answered already. Nothing was written."))


class Answer(NamedTuple):
    """One answer to tap: its words, and the records that say so."""

    words: Phrase
    drafts: tuple[Draft, ...]


class Questions:
    """The questions as they stand, and what answers each."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook

    def all(self) -> list[Asked]:
        """Return the open questions."""
        return self._notebook.book.questions()

    def records(self, asked: Asked) -> list[Phrase]:
        """Return the records that a question is about, in words: when and by whom."""
        if asked.what == "heads":
            return []
        found = (self._notebook.journal.by_id(each) for each in asked.records)
        return [self._told(record) for record in found if record is not None]

    def answers(self, asked: Asked) -> list[Answer]:
        """Return the answers that can be tapped; empty where the hive has to be looked at."""
        if asked.what == "twice":
            return self._twice(asked)
        if asked.what == "joins":
            return self._joins(asked)
        return self._heads(asked) if asked.what == "heads" else []

    def number(self, asked: Asked, number: int) -> None:
        """Answer with a number: pieces that went along in a split, days of a period."""
        if asked.what == "split":
            body = {"split": asked.records[0], "pieces_along": number}
            self.give(asked, [self._draft("answer_split", asked, body)])
            return
        name = next(
            (
                t.name
                for t in self._notebook.book.terms().values()
                if t.treatment == asked.treatment
            ),
            asked.treatment,
        )
        apiary = self._notebook.book.hive(asked.hive).apiary if asked.hive else ""
        line = LabelLine(number).draft(self._notebook, asked.treatment, name, apiary or "")
        self.give(asked, [line])

    def give(self, asked: Asked, drafts: Sequence[Draft]) -> None:
        """Write an answer. Raises `Answered` where the question does not stand any more."""
        open_now = {(each.what, each.records) for each in self.all()}
        if (asked.what, asked.records) not in open_now:
            raise Answered
        self._notebook.write(drafts)

    def _twice(self, asked: Asked) -> list[Answer]:
        one = {"parts": [list(asked.records)]}
        each = {"parts": [[record] for record in asked.records]}
        return [
            Answer(
                say("It was one application, logged more than once"),
                (self._draft("answer_twice", asked, one),),
            ),
            Answer(
                say("Each was given: they are different applications"),
                (self._draft("answer_twice", asked, each),),
            ),
        ]

    def _joins(self, asked: Asked) -> list[Answer]:
        application, course = asked.records
        body = {"application": application}
        goes_on = {**body, "course": course}
        return [
            Answer(
                say("It goes on with the course before it"),
                (self._draft("answer_joins", asked, goes_on),),
            ),
            Answer(say("It begins a new course"), (self._draft("answer_joins", asked, body),)),
        ]

    def _heads(self, asked: Asked) -> list[Answer]:
        version = self._version(asked.records[0])
        if version is None:
            return []
        return [Answer(self._told(head), (_holds(version, head),)) for head in version.open]

    def _version(self, root: str) -> Version | None:
        about = (
            record
            for _, record in self._notebook.journal.arrivals()
            if root in (record.id, record.corrects)
        )
        return versions(about).get(root)

    def _draft(self, kind: str, asked: Asked, body: dict[str, Any]) -> Draft:
        notebook = self._notebook
        state = notebook.book.hive(asked.hive) if asked.hive else None
        apiary = (state.apiary or None) if state is not None else None
        return Draft(
            kind,
            notebook.moment(apiary),
            notebook.keeper or "",
            body,
            apiary=apiary,
            hive=asked.hive or None,
        )

    def _told(self, record: Record) -> Phrase:
        who = self._notebook.shelf.keepers().get(record.keeper) or say("keeper not known")
        said = say(
            "{day}, {time}, {who}",
            day=happened.civil(record.happened),
            time=record.happened[11:16],
            who=who,
        )
        return say("{record}: taken back", record=said) if record.void else _with(said, record)


def _with(said: Phrase, record: Record) -> Phrase:
    """Return the record with the little that tells it from another of its kind."""
    dose = record.body.get("dose")
    pieces = record.body.get("pieces") or record.body.get("count")
    if isinstance(dose, dict):
        given = measured(dose["amount"], dose["unit"], dose.get("per", "hive"))
        return say("{record}: {given}", record=said, given=given)
    if isinstance(pieces, int):
        return say("{record}: {given}", record=said, given=measured(pieces, "piece", "hive"))
    name = record.body.get("name") or record.body.get("number")
    return say("{record}: {name}", record=said, name=str(name)) if name else said


def _holds(version: Version, head: Record) -> Draft:
    """Return the correction that has one version hold, and names all that stood beside it."""
    return Draft(
        version.root.kind,
        head.happened,
        head.keeper,
        dict(head.body),
        apiary=head.apiary,
        hive=head.hive,
        colony=head.colony,
        corrects=version.root.id,
        heads=version.head_ids,
        void=head.void,
    )
