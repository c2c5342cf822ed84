"""Questions to the keeper, in words."""

from __future__ import annotations

from collections.abc import Iterable

from fieldapp.book.answers import Asked, Place
from fieldapp.book.sameness import Alike
from fieldapp.husbandry.state import HiveState, Question
from fieldapp.words import Phrase, say


def asked(question: Question, state: HiveState | None) -> Asked:
    """Return a question in words; `state` is that of the hive it is about, if of one."""
    hive = state.hive if state else ""
    return Asked(question.what, hive, question.records, question.treatment, _words(question, state))


def same_asked(pair: Alike, places: Iterable[Place]) -> Asked:
    """Return the question whether two of one name or place are one; `places` are the apiaries."""
    one, other = pair.names
    if pair.what == "keeper":
        phrase = say("Two keepers are called {name}. Are they one?", name=one)
    elif pair.what == "hive":
        apiary = next((each.name for each in places if each.id == pair.apiary), "?")
        phrase = say(
            "Two hives at {apiary} are called {number}. Are they one?", apiary=apiary, number=one
        )
    elif one == other:
        phrase = say("Two apiaries are called {name}. Are they one?", name=one)
    else:
        phrase = say("{one} and {other}: are they one apiary?", one=one, other=other)
    hive = pair.ids[0] if pair.what == "hive" else ""
    return Asked(f"same {pair.what}", hive, pair.ids, "", phrase)


def _words(question: Question, state: HiveState | None) -> Phrase:  # noqa: PLR0911
    number = (state.number or state.hive) if state else ""
    name = question.treatment
    if state is not None:
        known = (t.name for t in state.terms.values() if t.treatment == question.treatment)
        name = next(known, name)
    if question.what == "twice":
        return say(
            "Hive {number}, {name}: {n} records of one day. Is it one application?",
            number=number,
            name=name,
            n=len(question.records),
        )
    if question.what == "joins":
        return say(
            "Hive {number}, {name}: which course does the application belong to?",
            number=number,
            name=name,
        )
    if question.what == "split":
        return say("Hive {number}: how many pieces went along in the split?", number=number)
    if question.what == "pieces":
        return say("Hive {number}, {name}: how many pieces are in?", number=number, name=name)
    if question.what == "period":
        return say("Hive {number}, {name}: who gave a withdrawal period?", number=number, name=name)
    if question.what == "unite":
        return say(
            "Hive {number}, {name}: two courses were united. Which goes on?",
            number=number,
            name=name,
        )
    return say("A record was corrected twice side by side. Which holds?")
