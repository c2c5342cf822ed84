"""One hive in one look: honey, courses, what comes next; then its history, newest first."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fieldapp.book import Entry
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.state import HiveState
from fieldapp.journal import happened
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.count_verdict import verdict
from fieldapp.rounds.hive_history import entry_told
from fieldapp.rounds.hive_told import (
    course_told,
    courses_in_sight,
    exposed_told,
    honey_told,
    item_told,
)
from fieldapp.rounds.look_questions import LOOK
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import say

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
        (*honey_told(state, today), *exposed_told(state, today).values()),
        tuple(course_told(state, each) for each in courses_in_sight(state, today)),
        _load(notebook, CountsTold(notebook, hive)),
        _inside(state, book.history(hive), today),
        tuple(item_told(each) for each in book.items(hive, today)),
        tuple(entry_told(notebook, each) for each in book.history(hive)[:HISTORY]),
    )


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
