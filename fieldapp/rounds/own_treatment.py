"""An own treatment: what the label in hand says, asked question by question; then its terms.

What is entered is kept on this phone at once. Put right later, it is a new version: rounds that
were done keep the terms that held then.
"""

from __future__ import annotations

from datetime import date
from typing import Any, NamedTuple

from fieldapp.husbandry.library import LabelInHand, LibraryError, own_terms
from fieldapp.journal.called import field_called
from fieldapp.journal.record import Draft
from fieldapp.rounds import own_answers
from fieldapp.rounds.cautions import in_the_air
from fieldapp.rounds.desk_form import Question, Written
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.look_form import Kept, Number
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.own_label import about_the_label, answers_of
from fieldapp.rounds.own_questions import SILENT, UNKNOWN, questions_of
from fieldapp.rounds.own_words import NAMES, contradictions, said
from fieldapp.rounds.terms import OWN, terms_body
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, Speech, say

_KEPT = "own treatment"
_OPEN: dict[str, Phrase] = {
    "period": say("Honey stays closed until a period is known."),
    "supers": say("Supers count as if they had to be off."),
    "dose": say("What each hive gets is not recorded by itself."),
    "gap": say("No day for the next application can be told."),
    "stay": say("No day for taking pieces out can be told."),
    "protective": say("Before a round it is asked whether you wear what the label says."),
    "first_aid": say("First aid refers to the product's label."),
}


class OwnLine(NamedTuple):
    """An own treatment as a list shows it."""

    identity: str
    name: str
    label: str


class Answered(NamedTuple):
    """One question in the summary: where it is asked, and how it stands."""

    name: str
    sign: Sign
    words: Phrase
    answer: Phrase | str
    follows: Phrase | None = None


class Beside(NamedTuple):
    """An answer beside a question's own: its words, and what is kept for it.

    One that `ends` keeps what was entered, and asks for no more of its kind.
    """

    words: Phrase
    kept: str | None = None
    ends: bool = False


def own_treatments(notebook: Notebook) -> list[OwnLine]:
    """Return the keeper's own treatments by name."""
    found = []
    for identity in notebook.book.terms():
        if identity.startswith(OWN):
            body = terms_body(notebook, identity)
            found.append(OwnLine(identity, str(body["name"]), str(body.get("label", ""))))
    return sorted(found, key=lambda line: (line.name, line.identity))


class OwnTreatment(Kept):
    """The answers about one label; `identity` names the own treatment that is put right.

    `speak` says in the keeper's language what the treatment may be called.
    """

    def __init__(
        self, notebook: Notebook, identity: str | None = None, speak: Speech | None = None
    ) -> None:
        kept_as, first = _KEPT, {}
        if identity is not None:
            body = terms_body(notebook, identity)
            kept_as = f"{_KEPT} {identity} {notebook.book.terms()[identity].id}"
            first = answers_of(body) if notebook.local.get(kept_as) is None else {}
        super().__init__(notebook, kept_as, first)
        self._notebook = notebook
        self._speak = speak or Speech()
        self.identity = identity

    # -- what a form of the desk is

    @property
    def title(self) -> Phrase:
        """What is asked."""
        return say("Own treatment") if self.identity is None else say("Own treatment: put right")

    @property
    def questions(self) -> list[Question]:
        """Every question so far, in its order: what follows depends on the answers."""
        asked = self._about()
        for key in own_answers.KEYS:
            asked += questions_of(key, self.values)
        return asked

    def take(self, name: str, value: Any) -> None:
        """Take an answer. What followed from another answer to a gate is dropped."""
        if name in own_answers.KEYS and self.values.get(name) != value:
            for part in [each for each in self.values if each.startswith(f"{name}.")]:
                del self.values[part]
        super().take(name, value)

    # -- one question after the other

    @property
    def at(self) -> str | None:
        """The question that comes next, None where all were asked."""
        names = [question.name for question in self.questions]
        begun: str | None = self.values.get("at")
        if begun is None and self.identity is None:
            return names[0]
        return begun if begun in names else None

    def after(self, name: str, *, key_over: bool = False) -> str | None:
        """Return the question after one, None after the last; it is kept as the next.

        Where the `key` of the question is over, what else belongs to it is passed by.
        """
        names = [question.name for question in self.questions]
        place = names.index(name) + 1 if name in names else len(names)
        while key_over and place < len(names) and names[place].startswith(_key_of(name)):
            place += 1
        following = names[place] if place < len(names) else None
        self.go_to(following)
        return following

    def go_to(self, name: str | None) -> None:
        """Keep which question is the next; None: the summary."""
        super().take("at", name or "over")

    def before(self, name: str) -> str | None:
        """Return the question before one, None before the first."""
        names = [question.name for question in self.questions]
        place = names.index(name) if name in names else 0
        return names[place - 1] if place else None

    def question(self, name: str) -> Question | None:
        """Return a question by name, None where it is not asked."""
        return next((each for each in self.questions if each.name == name), None)

    def besides(self, question: Question) -> tuple[Beside, ...]:
        """Return the answers beside a question's own."""
        if question.name in own_answers.KEYS:
            return (
                Beside(say("Not on the label"), SILENT),
                Beside(say("Not known"), UNKNOWN),
            )
        if question.needed:
            return ()
        if isinstance(question, Written) and _is_line(question.name):
            return (Beside(say("No more lines"), ends=True),)
        return (Beside(say("Not on the label")),)

    # -- the summary

    def lacking(self) -> list[Answered]:
        """Return the questions without which nothing can be written down, and contradictions."""
        found = [
            Answered(each.name, "late", each.words, say("needed"))
            for each in self.questions
            if each.needed and each.name not in self.values
        ]
        return [
            *found,
            *(
                Answered(name, "late", question.words, words)
                for name, words in contradictions(self.values)
                if (question := self.question(name)) is not None
            ),
        ]

    def missing(self) -> list[Answered]:
        """Return what stays not known, and what follows from that."""
        known = own_answers.answers(self.values)
        found = []
        for key in own_answers.KEYS:
            if key not in known and not self._beside(key):
                silent = self.values.get(key) == SILENT
                answer = say("not on the label") if silent else say("not known")
                found.append(Answered(key, "unknown", NAMES[key], answer, _OPEN.get(key)))
        return found

    def known(self) -> list[Answered]:
        """Return what is known, in the order in which it was asked; a list entry by entry."""
        found = [
            Answered(each.name, "done", NAMES[each.name], _answer(each, self.values))
            for each in self._about()
            if each.name in self.values
        ]
        for key in own_answers.answers(self.values):
            gate, *parts = questions_of(key, self.values)
            entries: dict[str, list[Question]] = {}
            for part in parts:
                if part.name in self.values and part.name != f"{key}.unit":
                    entry = part.name.split(".")[1]
                    entries.setdefault(entry if entry.isdigit() else "", []).append(part)
            for entry, asked in entries.items() or [("", [])]:
                name = asked[0].name if entry not in ("", "0") else key
                found.append(Answered(name, "done", NAMES[key], said(gate, asked, self.values)))
        return found

    @property
    def remarks(self) -> list[Told]:
        """What is to be said before it is written down."""
        found = [
            Told("unknown", say("A log book: the label in your hand decides, not these lines."))
        ]
        if self.identity is not None:
            words = say("Rounds from now on go by this version; those before keep the old one.")
            found.append(Told("quiet", words))
        return found

    def save(self) -> str:
        """Write the terms down and return the own treatment's identity.

        Raises `RoundsError` where an answer does not fit or was not saved; nothing is lost.
        """
        notebook, values = self._notebook, self.values
        own_id = self.identity.removeprefix(OWN) if self.identity else notebook.new_id()
        label = LabelInHand(
            values["label"],
            values.get("issuer"),
            values.get("year"),
            values["country"],
            seen=date.fromisoformat(values["seen"]),
            silent=own_answers.silent(values),
        )
        try:
            body = own_terms(
                own_id,
                values["name"],
                values["active"],
                self._method(),
                values["form"],
                label,
                own_answers.answers(values),
            )
        except LibraryError as error:
            raise RoundsError(
                say(
                    "{where} does not fit: it has to be {expected}. Nothing was written down, "
                    "your answers are kept.",
                    where=field_called(error.where),
                    expected=error.expected,
                )
            ) from error
        notebook.write([Draft("terms", notebook.moment(), notebook.keeper or "", body)])
        self.forget()
        return f"{OWN}{own_id}"

    def _method(self) -> str:
        """Return the method, in which it can be read that it fills the air."""
        method = str(self.values["method"])
        body = {"method": method, "active": self.values["active"]}
        return (
            f"{method}, vapour" if self.values["air"] == "yes" and not in_the_air(body) else method
        )

    def _about(self) -> list[Question]:
        return about_the_label(
            self.values, self._notebook.library, self._notebook.today(), self._speak
        )

    def _beside(self, key: str) -> bool:
        """Whether a key asks for what this form of treatment cannot have."""
        return key == "stay" and self.values.get("form") == "dose"


def _key_of(name: str) -> str:
    return name.partition(".")[0] + "."


def _is_line(name: str) -> bool:
    """Whether a question asks for one of several lines: its name ends with a number."""
    return name.rpartition(".")[2].isdigit()


def _answer(question: Question, values: dict[str, Any]) -> Phrase | str:
    value = values[question.name]
    if isinstance(question, Number):
        return str(value)
    return question.said(value)
