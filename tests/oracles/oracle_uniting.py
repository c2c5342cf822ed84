"""The courses of two colonies that become one: which go on, and which are united."""

from __future__ import annotations

from datetime import date

from oracle_courses import broken_off
from oracle_state import Colony, Course


def join_courses(day: date, stays: Colony, joins: Colony) -> tuple[list[Course], set[str]]:
    """Return the last course of each treatment from now on, and the treatments to ask about."""
    goes_on: list[Course] = []
    asked: set[str] = set()
    for treatment in sorted({course.treatment for course in stays.courses + joins.courses}):
        last = [c for colony in (stays, joins) for c in _last(colony, treatment)]
        live = [course for course in last if _live(course, day)]
        if len(live) < 2:
            goes_on.append(live[0] if live else max(last, key=lambda c: c.given[0].key))
            continue
        if live[0].below != live[1].below:
            asked.add(treatment)
        goes_on.append(_unite(*live, day)[0])
    return _join_copies(day, stays, joins, goes_on), asked


def _last(colony: Colony, treatment: str) -> list[Course]:
    return [c for c in colony.courses if c.treatment == treatment and not c.united][-1:]


def _unite(first: Course, second: Course, day: date) -> tuple[Course, Course]:
    """Return the course that goes on, and the one that is united.

    The larger k goes on; but one that is complete never completes one that is not.
    """
    if first.below == second.below:
        goes_on, ends = (second, first) if second.k > first.k else (first, second)
    else:
        goes_on, ends = (first, second) if first.below else (second, first)
    ends.united, ends.followed = True, day
    goes_on.last = max(first.last, second.last)
    goes_on.exposures += [e for e in ends.exposures if e not in goes_on.exposures]
    return goes_on, ends


def _join_copies(day: date, stays: Colony, joins: Colony, goes_on: list[Course]) -> list[Course]:
    """Unite what a split or swarm made two of, where both still want an application.

    Return the last courses: one of them may have made room for its other self.
    """
    for one in stays.courses:
        for other in joins.courses:
            if one.id == other.id and _runs(one, day) and _runs(other, day):
                holds, ends = _unite(one, other, day)
                goes_on = [holds if course is ends else course for course in goes_on]
    return goes_on


def _over(course: Course, day: date) -> bool:
    """Whether no application can join the course any more, whatever its number."""
    if course.united or course.stopped is not None or course.left is not None:
        return True
    return course.followed is not None or broken_off(course, day)


def _runs(course: Course, day: date) -> bool:
    """Whether a further application is still to come, pieces or not."""
    return not _over(course, day) and course.below and course.gap is not None


def _live(course: Course, day: date) -> bool:
    """Whether the course could still be joined, or waits for its pieces.

    Only what is live is united.
    """
    if course.pieces_in:
        return not course.united and course.stopped is None and course.left is None
    if _over(course, day):
        return False
    most = (course.gap or {}).get("most")
    if course.below or (course.gap is not None and most is None):
        return True
    return most is not None and (day - course.last).days <= 2 * most
