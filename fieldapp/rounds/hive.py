"""One hive in one look: honey, courses, what comes next; then its history, newest first."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fieldapp.book import Entry
from fieldapp.husbandry.amounts import measured
from fieldapp.husbandry.answers import Honey
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.progress import CourseView
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.state import HiveState
from fieldapp.journal import happened
from fieldapp.journal.called import kind_called
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.count_verdict import verdict
from fieldapp.rounds.due import SIGNS
from fieldapp.rounds.look_form import Question
from fieldapp.rounds.look_questions import LOOK, OF_KIND
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.spots import WHY
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, count, say

#: Entries of the history that one look shows; the rest stand on a page of their own.
HISTORY = 5
#: Days for which a look is shown as known; older ones are shown as past.
FRESH = 28


class HiveView(NamedTuple):
    """What the page shows, in its order."""

    number: str
    place: str
    honey: tuple[Told, ...]
    courses: tuple[Told, ...]
    load: tuple[Told, ...]
    inside: tuple[Told, ...]
    next: tuple[Told, ...]
    history: tuple[Told, ...]


def hive_view(notebook: Notebook, hive: str) -> HiveView:
    """Return what is known of a hive today."""
    book = notebook.book
    state = book.hive(hive)
    today = notebook.today(state.apiary)
    names = {place.id: place.name for place in book.apiaries(today)}
    return HiveView(
        state.number,
        names.get(state.apiary or "", ""),
        tuple(_honey(book.honey(hive, today))),
        tuple(
            Told(_COURSES.get(view.state, "quiet"), _course(state, view), tuple(why(view.reasons)))
            for view in _in_sight(book.courses(hive, today))
        ),
        _load(notebook, CountsTold(notebook, hive)),
        _inside(state, book.history(hive), today),
        tuple(
            Told(
                SIGNS[item.timing],
                _next(item.what, item.first, item.last),
                tuple(why(item.reasons)),
            )
            for item in book.items(hive, today)
        ),
        tuple(_entry(entry) for entry in book.history(hive)[:HISTORY]),
    )


class Shown(NamedTuple):
    """One record of the history: its root id, and how it is told."""

    root: str
    told: Told


def history(notebook: Notebook, hive: str) -> list[Shown]:
    """Return every record of a hive, newest first; what asks for an answer has its sign."""
    return [
        Shown(
            entry.root.id,
            _entry(entry)._replace(sign="unknown") if len(entry.versions) > 1 else _entry(entry),
        )
        for entry in notebook.book.history(hive)
    ]


def _load(notebook: Notebook, counts: CountsTold) -> tuple[Told, ...]:
    last = counts.last()
    if last is None:
        return (Told("unknown", say("Load: not known, no count yet")),)
    judged = verdict(notebook, counts)
    return (last, *([judged] if judged is not None else []))


def _inside(state: HiveState, entries: list[Entry], today: date) -> tuple[Told, ...]:
    """Return brood and queen as they were last seen, and the queen's cage."""
    told = []
    for name, words in (("brood", say("Sealed brood")), ("queen", say("Queen"))):
        seen = _last_seen(entries, name)
        if seen is None:
            told.append(Told("unknown", say("{what}: not known, no look yet", what=words)))
            continue
        day, value = seen
        question = next(each for each in LOOK if each.name == name)
        sign: Sign = "done" if (today - day).days <= FRESH else "quiet"
        if value == "queenless":
            sign = "late"
        said = say("{what}: {seen} ({day})", what=words, seen=question.said(value), day=day)
        told.append(Told(sign, said))
    queens = [each for each in state.events if each.what in ("caged", "released")]
    if queens and queens[-1].what == "caged":
        since = as_date(queens[-1].day)
        told.append(Told("due", say("Queen caged since {day}", day=since)))
    return tuple(told)


def _last_seen(entries: list[Entry], name: str) -> tuple[date, object] | None:
    for entry in entries:
        value = entry.holds.body.get(name)
        if entry.root.kind == "look" and not entry.void and value not in (None, "not seen"):
            return happened.civil(entry.holds.happened), value
    return None


def _in_sight(courses: list[CourseView]) -> list[CourseView]:
    """Return the courses that are open, and the last one however it ended."""
    return [each for n, each in enumerate(courses) if n == 0 or each.state in _OPEN]


def _course(state: HiveState, view: CourseView) -> Phrase:
    terms = state.terms.get(view.course.terms)
    if terms is None:
        return view.words
    return say("{treatment}: {state}", treatment=terms.name, state=view.words)


def _honey(honey: Honey) -> list[Told]:
    reasons = tuple(why(honey.reasons))
    if honey.state == "open":
        told = [Told("done", say("Honey: open, nothing closes it today"), reasons)]
    elif honey.honey_from is not None:
        told = [
            Told(
                "closed",
                say("Honey closed: may be taken from {day}", day=honey.honey_from),
                reasons,
            )
        ]
    elif honey.state == "closed":
        told = [Told("closed", say("Honey closed: the end is not known"), reasons)]
    else:
        told = [Told("unknown", say("Honey: not known, treat it as closed"), reasons)]
    if honey.supers_from is not None:
        if honey.state != "open":
            told.append(Told("quiet", say("Supers may go on from {day}", day=honey.supers_from)))
    else:
        told.append(Told("unknown", say("When supers may go on is not known")))
    for super_ in honey.exposed:
        words = (
            say("Super {mark} is exposed: never for people", mark=super_.mark)
            if super_.mark
            else say("The supers of this hive are exposed: never for people")
        )
        told.append(
            Told(
                "closed" if super_.certain else "unknown",
                words
                if super_.certain
                else say(
                    "Super {mark}: exposed or not is not known",
                    mark=super_.mark or say("without mark"),
                ),
                tuple(why(super_.reasons)),
            )
        )
    return told


def _next(what: Phrase, first: date | None, last: date | None) -> Phrase:
    if any(isinstance(value, date) for _, value in what.args):
        return what
    if first is not None and last is not None and first != last:
        return say("{what}: {first} to {last}", what=what, first=first, last=last)
    if first is not None:
        return say("{what}: from {first}", what=what, first=first)
    return what


#: States of a course that still asks for something.
_OPEN = frozenset({"waiting", "due", "late", "pieces in", "timing not known", "stay not known"})
#: The sign of a course's state; what is not named here is past.
_COURSES: dict[str, Sign] = {
    "complete": "done",
    "due": "due",
    "pieces in": "due",
    "late": "late",
    "broken off": "late",
    "taken out early": "late",
    "timing not known": "unknown",
    "stay not known": "unknown",
    "part dose": "unknown",
}


def _entry(entry: Entry) -> Told:
    record = entry.holds
    name = kind_called(record.kind)
    words = say("{day}: {what}", day=happened.civil(record.happened), what=name)
    detail = _detail(record.kind, record.body)
    if detail is not None:
        words = say("{words}, {detail}", words=words, detail=detail)
    photos = sum(each.kind == "photo" for each in entry.annexes)
    if photos:
        shown = count("{n} photo", "{n} photos", photos)
        words = say("{words}, {detail}", words=words, detail=shown)
    if entry.void:
        return Told("quiet", say("{entry} (taken back)", entry=words))
    if entry.corrections:
        return Told("quiet", say("{entry} (corrected)", entry=words))
    return Told("quiet", words)


#: What was done with pieces, in the words of a history.
_DID: dict[str, Phrase] = {
    "moved": say("moved"),
    "out": say("out"),
    "lost": say("lost"),
    "found": say("found"),
    "replaced": say("replaced"),
}


def _detail(kind: str, body: dict[str, object]) -> Phrase | None:
    if kind == "application":
        dose = body.get("dose")
        if isinstance(dose, dict):
            return measured(dose["amount"], dose["unit"], dose.get("per", "hive"))
        return say("amount not said")
    if kind == "pieces":
        did = _DID.get(str(body["did"]), say("{did}", did=str(body["did"])))
        return say("{count} {did}", count=_whole(body["count"]), did=did)
    if kind == "skip":
        return WHY.get(str(body["why"]), say("other reason"))
    if kind == "count":
        return count("{n} mite", "{n} mites", _whole(body["mites"]))
    return _fed(body) if kind == "feed" else _answers(kind, body)


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
    return said[0] if len(said) == 1 else say("{one}, {other}", one=said[0], other=said[1])


def _answer(kind: str, question: Question, value: object) -> Phrase:
    """Return a question with its answer; the answer alone where the kind asks the same already."""
    answer = question.said(value)
    if question.words == kind_called(kind):
        return answer if isinstance(answer, Phrase) else say("{answer}", answer=answer)
    return say("{what}: {answer}", what=question.words, answer=answer)


def _whole(value: object) -> int:
    return value if isinstance(value, int) else 0
