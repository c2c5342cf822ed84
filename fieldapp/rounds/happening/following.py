"""What follows from records before they are written: each hive as the rules would have it then."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from fieldapp.book.questions import asked
from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.state import Exposure, HiveState
from fieldapp.journal.record import Draft
from fieldapp.rounds.hive_told import (
    course_told,
    courses_in_sight,
    exposed_told,
    honey_told,
    item_told,
)
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, say


class Followed(NamedTuple):
    """A hive for which something becomes otherwise: what holds then, and what holds no longer."""

    hive: str
    number: str
    lines: tuple[Told, ...]


def follows(notebook: Notebook, drafts: Sequence[Draft]) -> tuple[Followed, ...]:
    """Return what these drafts, each with its id, would change, hive by hive as they name them."""
    after = notebook.book.supposing(drafts)
    before = {hive: notebook.book.hive(hive) for hive in after}
    named = [hive for draft in drafts for hive in _named(draft)]
    order = dict.fromkeys([*(hive for hive in named if hive in after), *after])
    found = (changed(before[hive], after[hive], _today(notebook, after[hive])) for hive in order)
    return tuple(each for each in found if each.lines)


def changed(before: HiveState, after: HiveState, day: date) -> Followed:
    """Return what is told of a hive on a day after something, and was not before it.

    That something is told no longer is said where nothing else is told of it, and bees live on.
    """
    was, now = _told(before, day), _told(after, day)
    known = {(each.sign, each.words) for _, each in was}
    lines = [each for _, each in now if (each.sign, each.words) not in known]
    if after.lives(day.toordinal()):
        stays = {topic for topic, _ in now}
        lines += [
            Told("quiet", say("no longer: {field}", field=each.words))
            for topic, each in was
            if topic not in stays
        ]
    return Followed(after.hive, after.number or before.number, tuple(lines))


#: What a line is about: its kind, and of what.
_Topic = tuple[str, str]


def _told(state: HiveState, day: date) -> list[tuple[_Topic, Told]]:
    """Return all that is told of a hive on a day, each line with what it is about."""
    found: list[tuple[_Topic, Told]] = [(("bees", ""), _bees(state, day))]
    found += [(("honey", str(n)), each) for n, each in enumerate(honey_told(state, day))]
    found += [(("super", mark), each) for mark, each in exposed_told(state, day).items()]
    found += [(("pieces", each.treatment), _pieces(state, each)) for each in _open(state)]
    found += [
        (("course", each.course.treatment), course_told(state, each))
        for each in courses_in_sight(state, day)
    ]
    found += [
        ((each.task, each.treatment or ""), item_told(each)) for each in hive_agenda(state, day)
    ]
    found += [
        ((f"asked {each.what}", each.treatment), Told("unknown", asked(each, state).phrase))
        for each in state.questions
    ]
    return found


def _bees(state: HiveState, day: date) -> Told:
    if state.lives(day.toordinal()):
        return Told("quiet", say("A colony lives here"))
    if state.ended:
        return Told("quiet", say("This hive is gone"))
    return Told("quiet", say("No colony lives here"))


def _open(state: HiveState) -> list[Exposure]:
    return [each for each in state.exposures if each.open]


def _pieces(state: HiveState, exposure: Exposure) -> Told:
    terms = state.terms.get(exposure.terms)
    name: Phrase | str = terms.name if terms is not None else exposure.treatment
    said = count("{n} piece in: {name}", "{n} pieces in: {name}", exposure.remaining, name=name)
    if exposure.unsure:
        said = say("{pieces}, or fewer: nobody said how many went along", pieces=said)
    return Told("due", said)


def _named(draft: Draft) -> list[str]:
    """Return the hives that a draft names, that of its envelope first."""
    names = (draft.hive, draft.body.get("to_hive"), draft.body.get("from_hive"))
    return [name for name in names if name]


def _today(notebook: Notebook, state: HiveState) -> date:
    return notebook.today(state.apiary)
