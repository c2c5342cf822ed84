"""What the hives' courses say to the ledger: what was given, and what is still needed."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.state import Course, HiveState


class Need(NamedTuple):
    """Applications that a hive's course still lacks, the next on `by` (None: not known)."""

    treatment: str
    hive: str
    applications: int
    by: date | None


def treated(states: Iterable[HiveState]) -> dict[str, date]:
    """Return the last day on which each hive was given a substance; without one: left out."""
    found: dict[str, date] = {}
    for state in states:
        for course in state.courses:
            terms = state.terms.get(course.terms)
            if terms is None or terms.form != "act":
                last = as_date(course.last)
                found[state.hive] = max(found.get(state.hive, last), last)
    return found


def needs(states: Iterable[HiveState], day: date) -> list[Need]:
    """Return what every course going on at `day` still needs.

    Of a course whose number is not known nothing can be told; one broken off needs nothing.
    """
    asked = day.toordinal()
    found = []
    for state in states:
        if not state.lives(asked):
            continue
        for course in state.courses:
            if course.n is not None and not course.ended and course.k < course.n:
                if _over(course, asked):
                    continue
                target = course.gap.target or course.gap.most if course.gap else None
                by = as_date(course.last + target) if target is not None else None
                found.append(Need(course.treatment, state.hive, course.n - course.k, by))
    return found


def _over(course: Course, day: int) -> bool:
    """Whether the next application would be so late that the course is broken off."""
    if course.gap is None or course.gap.most is None:
        return False
    return day > course.last + 2 * course.gap.most
