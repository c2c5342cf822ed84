"""What records say of supers, and which of it counts where versions stand side by side."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from math import prod
from typing import NamedTuple

from fieldapp.husbandry.days import Key


class SuperEvent(NamedTuple):
    """One record about a super. `other` is the hive it came from or was carried to.

    `what`: ``on``, ``off``, ``away`` and ``came`` (carried), ``emptied``, ``comb up``. `sure` is
    False where it may not be one of a new season: a version that stands side by side says
    otherwise, or it went along in a split. `place` (0 holds) says which of `of` versions it is.
    """

    key: Key
    what: str
    mark: str
    hive: str
    number: int | None
    other: str
    record: str
    sure: bool = True
    place: int = 0
    of: int = 1


#: More combinations of versions than this, and only what may expose a super counts.
MOST_VERSIONS = 32


def by_version(events: Sequence[SuperEvent]) -> list[list[SuperEvent]]:
    """Return the events for each choice among versions side by side, what holds first."""
    counts = {event.record: event.of for event in events if event.of > 1}
    if not counts:
        return [list(events)]
    if prod(counts.values()) > MOST_VERSIONS:
        return [[e for e in events if e.of == 1 or e.what in ("on", "came", "comb up")]]
    choices = (
        dict(zip(counts, choice, strict=True)) for choice in product(*map(range, counts.values()))
    )
    return [
        [event for event in events if choice.get(event.record, event.place) == event.place]
        for choice in choices
    ]
