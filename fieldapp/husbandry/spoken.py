"""How a line of the agenda is said, alike on the phone's screen and on the served page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Item, Line, Reason, Timing
from fieldapp.husbandry.figures import GROUNDS
from fieldapp.words import Arg, Phrase, count, say

AHEAD = 14
"""Days ahead in which what still waits is shown; what comes later stands with each hive."""


#: Of these the day itself is said: nothing is to be done by any.
_NEWS = frozenset({"supers_back", "honey_cleared"})
#: These stand until something is done or lifted, however long that takes.
_STANDING = frozenset({"hold", "dead", "release", "standstill"})


_SOURCED = say("{reason} ({source}, {standing})")
#: Where the source is no more than the standing in other words, it is said once.
_SAYS_IT = say("{reason} ({source})")


class Spoken(NamedTuple):
    """A line in the keeper's order: what, where, when, why. `timing` gives its sign."""

    timing: Timing
    what: Phrase
    where: Phrase
    when: Phrase
    why: tuple[Phrase, ...]


def in_sight(lines: Iterable[Line], day: date) -> list[Line]:
    """Return what is late, due or asked on `day`, and what waits within the days ahead."""
    return [line for line in lines if line.timing != "waiting" or _soon(line, day)]


def spoken(line: Line, places: Mapping[str, str], day: date) -> Spoken:
    """Return a line as it is said on `day`; `places` gives apiaries' names by id."""
    return Spoken(
        line.timing,
        line.what,
        where(places.get(line.apiary or "", ""), len(line.hives)),
        when(line, day),
        tuple(why(line.reasons)),
    )


def where(place: str, hives: int) -> Phrase:
    """Return the place and how many hives: *Quarry Top, 6 hives*."""
    if not hives:
        return say("{apiary}", apiary=place) if place else say("all apiaries")
    number = count("{n} hive", "{n} hives", hives)
    return say("{apiary}, {hives}", apiary=place, hives=number) if place else number


def when(line: Line | Item, day: date) -> Phrase:
    """Return by when, from the day asked: *by 14 Jun 2026*, *late by 3 days, since …*."""
    if line.timing == "late" and line.last is not None:
        return count(
            "late by {n} day, since {last}",
            "late by {n} days, since {last}",
            (day - line.last).days,
            last=line.last,
        )
    if line.timing == "ask":
        return say("please answer")
    if (line.timing == "waiting" or line.task in _NEWS) and line.first is not None:
        return say("from {first}", first=line.first)
    return _without_end(line) if line.last is None else _by(line.last, day)


def _without_end(line: Line | Item) -> Phrase:
    if line.task in _STANDING and line.first is not None:
        return say("since {first}", first=line.first)
    return say("no last day known")


def _by(last: date, day: date) -> Phrase:
    return say("today is the last day") if last == day else say("by {last}", last=last)


def why(reasons: Iterable[Reason]) -> list[Phrase]:
    """Return reasons in words, with source and standing where they are given."""
    return [_why(reason) for reason in reasons]


def unsourced(said: Phrase) -> Phrase:
    """Return a reason as `why` gave it without its source, which the eye need not read each time.

    What does not stand firm keeps its standing: *reported*, *from memory*, *common practice*.
    """
    if said.text not in (_SOURCED.text, _SAYS_IT.text):
        return said
    given = dict(said.args)
    reason, standing = given["reason"], given["standing"]
    if standing in GROUNDS:
        return reason if isinstance(reason, Phrase) else say("{reason}", reason=reason)
    return say("{reason} ({standing})", reason=reason, standing=standing)


def _why(reason: Reason) -> Phrase:
    if reason.source and reason.standing:
        says_it = reason.source.lower().startswith(reason.standing)
        given: dict[str, Arg] = {"reason": reason.phrase, "source": reason.source}
        given["standing"] = reason.standing
        return (_SAYS_IT if says_it else _SOURCED)._replace(args=tuple(given.items()))
    if reason.standing:
        return say("{reason} ({standing})", reason=reason.phrase, standing=reason.standing)
    return reason.phrase


def _soon(line: Line, day: date) -> bool:
    return line.first is not None and (line.first - day).days <= AHEAD
