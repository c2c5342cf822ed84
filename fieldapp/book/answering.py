"""Questions that only the keeper can answer, and the records that answer them.

The same on the phone and on the server's pages. Until one is answered the rules take the worse,
so none has to be answered in a hurry.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any, NamedTuple

from fieldapp.book.answers import Asked
from fieldapp.book.label_line import MOST_DAYS, LabelLine
from fieldapp.book.signing import Signing
from fieldapp.husbandry.amounts import measured
from fieldapp.husbandry.vocabulary import DAYS, PIECES
from fieldapp.journal import happened
from fieldapp.journal.corrections import Version, versions
from fieldapp.journal.record import Draft, Record
from fieldapp.words import Phrase, Speech, count, say


class Number(NamedTuple):
    """An answer that is a number: what is asked, its unit, and the most that it can be."""

    words: Phrase
    unit: Phrase
    most: int


NUMBERS: dict[str, Number] = {
    "split": Number(say("How many pieces went along?"), PIECES, 99),
    "period": Number(say("Days on the label"), DAYS, MOST_DAYS),
}


class Answered(LookupError):
    """A question that was answered meanwhile, here or elsewhere; `phrase` says so."""

    def __init__(self) -> None:
        self.phrase = say("This question is answered already. Nothing was written.")
        super().__init__(Speech()(self.phrase))


class Answer(NamedTuple):
    """One answer to choose: a key that stays, its words, and the records that say so."""

    key: str
    words: Phrase
    drafts: tuple[Draft, ...]


class Questions:
    """The questions as they stand, and what answers each."""

    def __init__(self, signing: Signing) -> None:
        self._signing = signing

    def all(self) -> list[Asked]:
        """Return the open questions."""
        return self._signing.book.questions()

    def records(self, asked: Asked) -> list[Phrase]:
        """Return what a question is about, in words: records by when and whom, or what is alike."""
        if asked.what == "heads":
            return []
        if asked.what.startswith("same "):
            return self._alike(asked)
        found = (self._signing.journal.by_id(each) for each in asked.records)
        return [self._told(record) for record in found if record is not None]

    def answers(self, asked: Asked) -> list[Answer]:
        """Return the answers to choose from; empty where the hive has to be looked at."""
        if asked.what == "twice":
            return self._twice(asked)
        if asked.what == "joins":
            return self._joins(asked)
        if asked.what.startswith("same "):
            return self._same(asked)
        return self._heads(asked) if asked.what == "heads" else []

    def key(self, asked: Asked) -> str:
        """Return what tells this question from others and from itself with other answers."""
        keys = [answer.key for answer in self.answers(asked)]
        said = "\n".join((asked.what, asked.treatment, *asked.records, "", *keys))
        return hashlib.sha256(said.encode()).hexdigest()[:16]

    def number(self, asked: Asked, number: int) -> None:
        """Answer with a number: pieces that went along in a split, days of a period.

        Raises `Answered` where the question does not stand any more.
        """
        if asked.what == "split":
            body = {"split": asked.records[0], "pieces_along": number}
            self.give(asked, [self._draft("answer_split", asked, body)])
            return
        book = self._signing.book
        known = (t.name for t in book.terms().values() if t.treatment == asked.treatment)
        name = next(known, asked.treatment)
        apiary = book.hive(asked.hive).apiary if asked.hive else ""
        line = LabelLine(number).draft(self._signing, asked.treatment, name, apiary or "")
        self.give(asked, [line])

    def give(self, asked: Asked, drafts: Sequence[Draft]) -> None:
        """Write an answer. Raises `Answered` where the question does not stand any more."""
        open_now = {(each.what, each.records) for each in self.all()}
        if (asked.what, asked.records) not in open_now:
            raise Answered
        self._signing.write(drafts)

    def _twice(self, asked: Asked) -> list[Answer]:
        one = {"parts": [list(asked.records)]}
        each = {"parts": [[record] for record in asked.records]}
        return [
            Answer(
                "one",
                say("It was one application, logged more than once"),
                (self._draft("answer_twice", asked, one),),
            ),
            Answer(
                "each",
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
                "goes on",
                say("It goes on with the course before it"),
                (self._draft("answer_joins", asked, goes_on),),
            ),
            Answer(
                "new",
                say("It begins a new course"),
                (self._draft("answer_joins", asked, body),),
            ),
        ]

    def _same(self, asked: Asked) -> list[Answer]:
        what = asked.what.removeprefix("same ")
        one = self._draft("same_as", asked, {"what": what, "ids": list(asked.records)})
        root = one._replace(id=self._signing.new_id())
        void = root._replace(id=None, corrects=root.id, heads=(str(root.id),), void=True)
        colonies = sorted({self._signing.book.hive(hive).colony for hive in asked.records} - {""})
        same_bees = self._draft("same_as", asked, {"what": "colony", "ids": colonies})
        if what != "hive":
            return [
                Answer("one", say("They are one"), (one,)),
                Answer("two", say("They are two"), (root, void)),
            ]
        return [
            Answer(
                "one",
                say("They are one hive, with one colony"),
                (one, same_bees) if len(colonies) > 1 else (one,),
            ),
            Answer("boxes", say("One hive, in which other bees live since"), (one,)),
            Answer("two", say("They are two hives"), (root, void)),
        ]

    def _alike(self, asked: Asked) -> list[Phrase]:
        """Return what is known of each of two that may be one, so that they can be told apart."""
        book = self._signing.book
        if asked.what == "same hive":
            return [
                count(
                    "Hive {number}: {n} record, the first of {day}",
                    "Hive {number}: {n} records, the first of {day}",
                    len(history),
                    number=book.hive(hive).number,
                    day=happened.civil(history[-1].holds.happened),
                )
                for hive in asked.records
                if (history := book.history(hive))
            ]
        if asked.what == "same apiary":
            places = {place.id: place for place in book.apiaries(self._signing.today())}
            return [
                count("{name}: {n} hive", "{name}: {n} hives", place.hives, name=place.name)
                for place in (places.get(each) for each in asked.records)
                if place is not None
            ]
        return []

    def _heads(self, asked: Asked) -> list[Answer]:
        version = self._version(asked.records[0])
        if version is None:
            return []
        differ = _differing(version.open)
        return [
            Answer(name, _said_of(self._told(head), head, differ), (_holds(version, head),))
            for name, head in zip(version.head_ids, version.open, strict=True)
        ]

    def _version(self, root: str) -> Version | None:
        about = (
            record
            for _, record in self._signing.journal.arrivals()
            if root in (record.id, record.corrects)
        )
        return versions(about).get(root)

    def _draft(self, kind: str, asked: Asked, body: dict[str, Any]) -> Draft:
        signing = self._signing
        state = signing.book.hive(asked.hive) if asked.hive else None
        apiary = (state.apiary or None) if state is not None else None
        return Draft(
            kind,
            signing.moment(apiary),
            signing.keeper or "",
            body,
            apiary=apiary,
            hive=asked.hive or None,
        )

    def _told(self, record: Record) -> Phrase:
        who = self._signing.book.shelf.keepers().get(record.keeper) or say("keeper not known")
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


def _differing(heads: Sequence[Record]) -> list[str]:
    """Return the fields of the body in which versions differ and that a line can show."""
    fields = sorted({field for head in heads for field in head.body})
    shown = [f for f in fields if f not in ("dose", "pieces", "count", "name", "number")]
    return [
        field
        for field in shown
        if len({repr(head.body.get(field)) for head in heads}) > 1
        and all(isinstance(head.body.get(field, ""), (str, int, float)) for head in heads)
    ]


def _said_of(said: Phrase, head: Record, fields: Sequence[str]) -> Phrase:
    """Return a version with what tells it from those beside it."""
    for field in fields:
        if field in head.body:
            value = str(head.body[field])
            named = field.replace("_", " ")
            said = say("{record}; {field}: {value}", record=said, field=named, value=value)
    return said


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
