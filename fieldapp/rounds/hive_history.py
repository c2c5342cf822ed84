"""The history of a hive, newest first: each record in one line."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.book import Entry
from fieldapp.husbandry.agenda.items import name_of
from fieldapp.husbandry.amounts import measured
from fieldapp.journal import happened
from fieldapp.journal.called import kind_called
from fieldapp.rounds.look_form import Question
from fieldapp.rounds.look_questions import OF_KIND
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.spots import WHY
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, count, say


class Shown(NamedTuple):
    """One record of the history: its root id, and how it is told."""

    root: str
    told: Told


def history(notebook: Notebook, hive: str) -> list[Shown]:
    """Return every record of a hive, newest first; what asks for an answer has its sign."""
    return [
        Shown(
            entry.root.id,
            entry_told(notebook, entry),
        )
        for entry in notebook.book.history(hive)
    ]


def entry_told(notebook: Notebook, entry: Entry) -> Told:
    """Return a record in one line; one of which versions stand side by side asks."""
    sign: Sign = "unknown" if len(entry.versions) > 1 else "quiet"
    record = entry.holds
    name = kind_called(record.kind)
    words = say("{day}: {what}", day=happened.civil(record.happened), what=name)
    detail = _detail(notebook, record.hive or "", record.kind, record.body)
    if detail is not None:
        said = say("{words}, {detail}", words=words, detail=detail)
        if detail.text in (_ANSWER.text, _ANSWERS.text):  # each begins as a question does
            said = say("{words}. {detail}", words=words, detail=detail)
        words = said
    photos = sum(each.kind == "photo" for each in entry.annexes)
    if photos:
        shown = count("{n} photo", "{n} photos", photos)
        words = say("{words}, {detail}", words=words, detail=shown)
    if entry.void:
        return Told(sign, say("{entry} (taken back)", entry=words))
    if entry.corrections:
        return Told(sign, say("{entry} (corrected)", entry=words))
    return Told(sign, words)


#: How an answer, and two of them, are told.
_ANSWER = say("{what}: {answer}")
_ANSWERS = say("{one}. {other}")

#: What was done with pieces, in the words of a history.
_DID: dict[str, Phrase] = {
    "moved": say("moved"),
    "out": say("out"),
    "lost": say("lost"),
    "found": say("found"),
    "replaced": say("replaced"),
}


def _detail(notebook: Notebook, hive: str, kind: str, body: dict[str, object]) -> Phrase | None:
    if kind == "application":
        dose = body.get("dose")
        amount = say("amount not said")
        if isinstance(dose, dict):
            amount = measured(dose["amount"], dose["unit"], dose.get("per", "hive"))
        name = name_of(notebook.book.hive(hive), str(body["terms"]), str(body["treatment"]))
        return say("{treatment}: {amount}", treatment=name, amount=amount)
    if kind == "pieces":
        did = _DID.get(str(body["did"]), say("{did}", did=str(body["did"])))
        return say("{count} {did}", count=_whole(body["count"]), did=did)
    if kind == "skip":
        return WHY.get(str(body["why"]), say("other reason"))
    if kind == "count":
        return count("{n} mite", "{n} mites", _whole(body["mites"]))
    return _fed(body) if kind == "feed" else _linked(notebook, kind, body)


def _linked(notebook: Notebook, kind: str, body: dict[str, object]) -> Phrase | None:
    """Return the other hive of a record, and its answers, as far as it has them."""
    answers, other = _answers(kind, body), _other_hive(notebook, body)
    if answers is None or other is None:
        return answers or other
    return say("{one}, {other}", one=other, other=answers)


def _other_hive(notebook: Notebook, body: dict[str, object]) -> Phrase | None:
    """Return the other hive that a record names, by its number now."""
    if "to_hive" in body:
        return say("to hive {number}", number=notebook.book.hive(str(body["to_hive"])).number)
    if "from_hive" in body:
        number = notebook.book.hive(str(body["from_hive"])).number
        return say("with the colony of hive {number}", number=number)
    return None


#: Units of feed that are words.
_FEED_UNITS: dict[str, Phrase] = {"combs": say("combs")}


def _fed(body: dict[str, object]) -> Phrase:
    """Return what was fed and how much, with its unit; an amount not said is said to be so."""
    asked = OF_KIND["feed"][0]
    what = asked.said(body["what"])
    amount, unit = body.get("amount"), body.get("unit")
    if not isinstance(amount, int | float):
        return say("{what}, amount not said", what=what)
    if unit is None:
        return say("{what}, {amount}, unit not said", what=what, amount=amount)
    return say(
        "{what}, {amount} {unit}",
        what=what,
        amount=amount,
        unit=_FEED_UNITS.get(str(unit), str(unit)),
    )


def _answers(kind: str, body: dict[str, object]) -> Phrase | None:
    """Return the first two answers of a form in words, None where there are none."""
    said = [
        _answer(kind, question, body[question.name])
        for question in OF_KIND.get(kind, ())
        if question.name in body
    ]
    if not said:
        return None
    if len(said) == 1:
        return said[0]
    if said[0].text != _ANSWER.text:
        return say("{one}, {other}", one=said[0], other=said[1])
    return say("{one}. {other}", one=said[0], other=said[1])


def _answer(kind: str, question: Question, value: object) -> Phrase:
    """Return a question with its answer; the answer alone where the kind asks the same already."""
    answer = question.said(value)
    if question.words == kind_called(kind):
        return answer if isinstance(answer, Phrase) else say("{answer}", answer=answer)
    return say("{what}: {answer}", what=question.words, answer=answer)


def _whole(value: object) -> int:
    return value if isinstance(value, int) else 0
