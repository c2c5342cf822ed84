"""What the courses of one treatment were so far, as far as the next application needs to know.

A `Track` is a value: split, swarm and transfer copy it, a unite makes one of two.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Course, Flag, Plan
from fieldapp.husbandry.terms import Gap, Range, Terms

#: Who answers *which course does it join?*: nobody yet, or a new course.
UNANSWERED, NEW = "", "new"

#: Finds a plan by its root's id, None where it has not arrived.
Plans = Callable[[str], Plan | None]
#: Finds terms by their root's id and treatment, None where they have not arrived.
Labels = Callable[[str, str], Terms | None]


class Known(NamedTuple):
    """What a course rests on beyond its applications: plans, and the terms that began it."""

    plans: Plans
    labels: Labels

    def label(self, course: Course) -> Range:
        """Return how many applications the label of the course's own terms allows."""
        terms = self.labels(course.terms, course.treatment)
        return (terms.number if terms is not None else None) or Range()

    def differs(self, course: Course, plan: Plan) -> tuple[Flag, ...]:
        """Return the flag of a plan with other days or another number than the course's label."""
        terms = self.labels(course.terms, course.treatment)
        return differs(self.label(course), (terms.gap if terms else None) or Gap(), plan)


class Track(NamedTuple):
    """The last course of a treatment and what lies before it.

    `last` is the day of the treatment's last application, in whichever course; `rest_end` the
    latest end before the last course that is known without its pieces, and `pieces` the
    exposures of the courses before it; then this year's counts.
    """

    course: Course
    last: int
    rest_end: int | None = None
    pieces: tuple[str, ...] = ()
    year: int = 0
    courses: int = 0
    applications: int = 0


class Given(NamedTuple):
    """One application as it reaches its course.

    `joins` is the course that it was answered to join, `NEW` or `UNANSWERED`; `made` are the
    exposures of its pieces, `inside` those of the treatment that were in the boxes before it.
    """

    id: str
    day: int
    key: Key
    terms: Terms
    plan: Plan | None
    part: bool
    joins: Course | str
    made: tuple[str, ...] = ()
    inside: tuple[str, ...] = ()


def pieces_before(track: Track) -> tuple[str, ...]:
    """Return the pieces of a track's courses."""
    return (*track.pieces, *track.course.pieces)


def ends_before(track: Track) -> int:
    """Return the latest end of a track's courses, as far as it is known without their pieces."""
    course = track.course
    known = (track.rest_end, course.left_pieces)
    return max(track.last, course.last, *(end for end in known if end is not None))


def differs(label: Range, gap: Gap, plan: Plan) -> tuple[Flag, ...]:
    """Return the flag of a plan with other days or another number than the label has."""
    most = label.most if label.most is not None else label.surely
    same_days = plan.gap == gap
    if same_days and (label.least or 1) <= plan.number <= most:
        return ()
    return (Flag("other days", record=plan.id),)
