"""What is to be done at one hive, by when and why."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from fieldapp.husbandry.agenda.courses import courses
from fieldapp.husbandry.agenda.honey import asked, dead, honey
from fieldapp.husbandry.agenda.items import order
from fieldapp.husbandry.agenda.looks import boards, counts, looks, queen
from fieldapp.husbandry.agenda.pieces import pieces
from fieldapp.husbandry.answers import Item
from fieldapp.husbandry.state import HiveState

_PARTS: tuple[Callable[[HiveState, int], Iterator[Item]], ...] = (
    courses,
    pieces,
    looks,
    counts,
    boards,
    queen,
    honey,
    asked,
    dead,
)


def hive_agenda(state: HiveState, day: date) -> list[Item]:
    """Return what is to be done at a hive as seen on `day`, late first."""
    if state.ended:
        return []
    asked_on = day.toordinal()
    items = [item for part in _PARTS for item in part(state, asked_on)]
    return sorted(items, key=order)
