"""What is due: the agenda as the first screen shows it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Line, Reason
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, count, say

#: Days ahead that the first screen shows; what comes later is on each hive's own page.
AHEAD = 14
#: Tasks that a round does hive by hive.
WALKED = frozenset({"apply", "remove"})

Sign = Literal["late", "due", "quiet", "unknown"]
SIGNS: dict[str, Sign] = {"late": "late", "due": "due", "waiting": "quiet", "ask": "unknown"}


class DueLine(NamedTuple):
    """One line of the agenda in words. `walked`: a tap on it begins a round."""

    line: Line
    sign: Sign
    what: Phrase
    where: Phrase
    when: Phrase
    why: tuple[Phrase, ...]
    walked: bool


class Due:
    """Reads the agenda of the day from the book."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook

    @property
    def today(self) -> date:
        """The day asked."""
        return self._notebook.today()

    def lines(self) -> list[DueLine]:
        """Return what is late, due, asked, and waiting in the days ahead, late first."""
        today = self.today
        names = {place.id: place.name for place in self._notebook.book.apiaries(today)}
        return [
            self._said(line, names, today)
            for line in self._notebook.book.agenda(today)
            if line.timing != "waiting" or _soon(line, today)
        ]

    def _said(self, line: Line, names: dict[str, str], today: date) -> DueLine:
        place = names.get(line.apiary or "", "")
        return DueLine(
            line,
            SIGNS[line.timing],
            line.what,
            where(place, len(line.hives)),
            when(line, today),
            tuple(reason_words(line.reasons)),
            line.task in WALKED and line.treatment is not None and line.apiary is not None,
        )


def where(place: str, hives: int) -> Phrase:
    """Return the place and how many hives: *Quarry Top, 6 hives*."""
    if not hives:
        return say("{apiary}", apiary=place)
    number = count("{n} hive", "{n} hives", hives)
    return say("{apiary}, {hives}", apiary=place, hives=number) if place else number


def when(line: Line, today: date) -> Phrase:
    """Return by when, from the day asked: *by 14 Jun 2026*, *late by 3 days*."""
    if line.timing == "late" and line.last is not None:
        days = (today - line.last).days
        return count(
            "late by {n} day, since {last}", "late by {n} days, since {last}", days, last=line.last
        )
    if line.timing == "ask":
        return say("please answer")
    if line.timing == "waiting" and line.first is not None:
        return say("from {first}", first=line.first)
    if line.last is None:
        return say("no last day known")
    if line.last == today:
        return say("today is the last day")
    return say("by {last}", last=line.last)


def reason_words(reasons: Iterable[Reason]) -> list[Phrase]:
    """Return reasons in words, with the source where one stands."""
    return [
        say(
            "{reason} ({source}, {standing})",
            reason=reason.phrase,
            source=reason.source,
            standing=reason.standing,
        )
        if reason.source and reason.standing
        else reason.phrase
        for reason in reasons
    ]


def _soon(line: Line, today: date) -> bool:
    return line.first is not None and (line.first - today).days <= AHEAD
