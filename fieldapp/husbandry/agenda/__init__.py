"""What is to be done at one hive, by when and why."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from fieldapp.husbandry.agenda.courses import courses
from fieldapp.husbandry.agenda.honey import asked, dead, held, open_again, to_empty
from fieldapp.husbandry.agenda.items import order
from fieldapp.husbandry.agenda.looks import boards, counts, looks
from fieldapp.husbandry.agenda.pieces import pieces
from fieldapp.husbandry.agenda.queen import queen
from fieldapp.husbandry.answers import Item
from fieldapp.husbandry.state import HiveState

_Part = Callable[[HiveState, int], Iterator[Item]]
#: What is asked of bees.
_OF_BEES: tuple[_Part, ...] = (looks, counts, boards, queen)
#: What is asked of boxes too that have no bees any more.
_OF_BOXES: tuple[_Part, ...] = (courses, pieces, open_again, to_empty, held, asked, dead)


def hive_agenda(state: HiveState, day: date) -> list[Item]:
    """Return what is to be done at a hive as seen on `day`, late first.

    Of a hive that is gone only honey is told that was drawn of it and is to be held.
    """
    asked_on = day.toordinal()
    parts: tuple[_Part, ...] = (held,)
    if not state.ended:
        parts = (*_OF_BEES, *_OF_BOXES) if state.lives(asked_on) else _OF_BOXES
    items = [item for part in parts for item in part(state, asked_on)]
    return sorted(items, key=order)
