"""What the rules answer: dates with their reasons, never a bare verdict."""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

from fieldapp.words import Phrase


class Reason(NamedTuple):
    """Why an answer is so: in words, with the records and the source it rests on."""

    phrase: Phrase
    records: tuple[str, ...] = ()
    source: str = ""
    standing: str = ""


Timing = Literal["waiting", "due", "late", "ask"]


class Item(NamedTuple):
    """One thing to do at one hive: what, by when, why. `last` is None where no end is known."""

    task: str
    hive: str
    apiary: str | None
    treatment: str | None
    timing: Timing
    first: date | None
    target: date | None
    last: date | None
    what: Phrase
    reasons: tuple[Reason, ...]


class Line(NamedTuple):
    """One line of the agenda: one task, apiary and day for all the hives that share it."""

    task: str
    apiary: str | None
    treatment: str | None
    timing: Timing
    first: date | None
    target: date | None
    last: date | None
    hives: tuple[str, ...]
    what: Phrase
    reasons: tuple[Reason, ...]


class Closed(NamedTuple):
    """Days on which honey of a hive may not be taken for people, both ends included.

    `last` None: without end, until something that `reasons` names is known or done.
    """

    first: date
    last: date | None
    reasons: tuple[Reason, ...]


class Exposed(NamedTuple):
    """A super that was on during a treatment which wants it off, or that may have been."""

    mark: str
    of_hive: str | None
    certain: bool
    reasons: tuple[Reason, ...]


class Honey(NamedTuple):
    """May honey be taken from this hive, and may supers go on.

    `state` is ``closed`` while the day asked lies in closed days, ``not known`` where the
    end rests on something unknown, else ``open``. `honey_from` and `supers_from` are the first
    open days; None where they are not known.
    """

    state: Literal["open", "closed", "not known"]
    honey_from: date | None
    supers_from: date | None
    closed: tuple[Closed, ...]
    exposed: tuple[Exposed, ...]
    reasons: tuple[Reason, ...]
