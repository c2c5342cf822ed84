"""Exposed supers: where each stands, until a record says that it was emptied."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.husbandry.state import HiveState, SuperState
from fieldapp.journal.record import Draft
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, say

#: How an exposed super is emptied, as records have it.
EMPTIED = ("fed back to bees", "melted", "burnt")


class ExposedSuper(NamedTuple):
    """A super that is never for people until it was emptied, and where it stands."""

    hive: str
    number: str
    mark: str
    words: Phrase
    told: Told


def exposed_supers(notebook: Notebook) -> list[ExposedSuper]:
    """Return every exposed super, and those of which it is not known, as they stand."""
    return [
        _exposed(state, each)
        for state in notebook.book.states()
        for each in state.supers
        if each.exposed
    ]


def _exposed(state: HiveState, each: SuperState) -> ExposedSuper:
    words = super_words(state.number, each)
    if each.hive is None:
        where = say("in the store, last on hive {number}", number=state.number)
    else:
        where = say("on hive {number}", number=state.number)
    if each.certain:
        told = Told("closed", say("exposed: not for people; {where}", where=where))
    else:
        told = Told("unknown", say("exposed: not known; {where}", where=where))
    return ExposedSuper(state.hive, state.number, each.mark, words, told)


def super_words(number: str, each: SuperState) -> Phrase:
    """Return what a super, or the unmarked ones of a hive, is called."""
    if each.mark:
        return say("Super {mark}", mark=each.mark)
    if each.number:
        return count(
            "{n} super of hive {number}", "{n} supers of hive {number}", each.number, number=number
        )
    return say("The supers of hive {number}", number=number)


def emptied(notebook: Notebook, super_: ExposedSuper, how: str) -> None:
    """Write down that a super was emptied, and not for people: it is clear from then on."""
    state = notebook.book.hive(super_.hive)
    body = {"mark": super_.mark} if super_.mark else {}
    notebook.write(
        [
            Draft(
                "super_emptied",
                notebook.moment(state.apiary),
                notebook.keeper or "",
                {**body, "how": how},
                apiary=state.apiary,
                hive=super_.hive,
            )
        ]
    )
