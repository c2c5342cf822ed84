"""The part of a state that the agenda needs from a day on: years of history left out."""

from __future__ import annotations

from fieldapp.husbandry.agenda.honey import HOLD_SAID, OPEN_SAID
from fieldapp.husbandry.agenda.looks import COUNT_ENDS
from fieldapp.husbandry.agenda.queen import BROODLESS_AFTER
from fieldapp.husbandry.state import Cause, Course, Event, HiveState, Interval

#: Looks for the queen and counts after a course reach back less than this.
_BACK = 150
_QUEEN = frozenset({"caged", "released", "removed", "introduced", "died"})


def recent(state: HiveState, since: int) -> HiveState:
    """Return a state from which the agenda of any day from `since` on is the same."""
    ended = {
        exposure.id: exposure.last_out
        for exposure in state.exposures
        if exposure.last_out is not None
    }
    caged = next((event.day for event in reversed(state.events) if event.what == "caged"), None)
    # Bees that nobody recorded are known by what they were given.
    given = [course for course in state.courses if not course.colony]
    unnamed = max(given, key=lambda course: course.last, default=None)
    courses = tuple(
        course
        for course in state.courses
        if course is unnamed or _matters(course, ended, since, caged)
    )
    named = {name for course in courses for name in course.pieces}
    exposures = tuple(
        each for each in state.exposures if each.open or each.id in named or named & set(each.also)
    )
    first = min((each.first for each in exposures if each.open), default=since) - 7
    rows = [row for row in state.closed if row.last is None or row.last >= since - OPEN_SAID - 1]
    causes: list[Cause] = []
    closed: list[Interval] = []
    for row in rows:
        start = len(causes)
        causes += [state.causes[place] for place in row.causes]
        closed.append(Interval(row.first, row.last, tuple(range(start, len(causes)))))
    return state._replace(
        courses=courses,
        exposures=exposures,
        causes=tuple(causes),
        closed=tuple(closed),
        looks=tuple(look for look in state.looks if look.day >= min(first, since - _BACK)),
        events=_events(state.events, since),
        drawn=tuple(d for d in state.drawn if d.held and d.day >= since - HOLD_SAID),
        seen=(),
        deaths=(),
    )


def _matters(course: Course, ended: dict[str, int], since: int, caged: int | None) -> bool:
    if not course.ended and (course.below or course.asks):
        return True
    last = max(course.last, *(ended.get(name, since) for name in course.pieces), 0)
    back = min(since - max(_BACK, COUNT_ENDS), caged + BROODLESS_AFTER if caged else since)
    return last >= back


def _events(events: tuple[Event, ...], since: int) -> tuple[Event, ...]:
    """Return the events of late, all of the queen, and the last of the board."""
    board = max((e.key for e in events if e.what.startswith("board")), default=None)
    return tuple(
        event
        for event in events
        if event.day >= since - _BACK or event.what in _QUEEN or event.key == board
    )
