"""Courses: which one an application joins, how it counts, and what comes next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from oracle_state import Boxes, Colony, Course, Given, Terms
from oracle_terms import add_months, days
from oracle_versions import Fact


@dataclass(frozen=True)
class Plan:
    id: str
    body: dict[str, Any]


@dataclass(frozen=True)
class Answer:
    """The keeper's word on which course an application joins; `course` None: a new one."""

    course: str | None


def planned_number(terms: Terms, plan: Plan | None) -> int | None:
    """Return the planned number of a new course, None where nothing says it."""
    if plan is not None:
        number: int = plan.body["number"]
        return number
    applications = terms.value("applications")
    if not applications:
        return None if terms.value("gap") else 1
    if "usual" in applications:
        usual: int = applications["usual"]
        return usual
    least, most = applications.get("least"), applications.get("most")
    return most if least == most else None


def give(
    colony: Colony, fact: Fact, terms: Terms, plan: Plan | None, answer: Answer | None
) -> Course:
    """Count one application; return its course.

    The keeper's `answer` is read only where the days between have no upper end; it names an
    application of one of the colony's courses, or this one or none for a new course.
    """
    treatment = fact.body["treatment"]
    part = bool(fact.body.get("part", False))
    given = Given(fact.id, fact.day, fact.key, part, terms)
    mine = [c for c in colony.courses if c.treatment == treatment and not c.united]
    course = None
    if mine:
        course = _which(mine, given, plan.body["gap"] if plan else mine[-1].gap, answer)
    if course is None:
        course = _begin(colony, mine, given, terms, plan, treatment)
    elif plan is not None and plan.id != course.plan_id:
        course.plan, course.plan_id, course.n = plan.body, plan.id, plan.body["number"]
        _compare_with_label(course)
    course.given.append(given)
    course.given.sort(key=lambda g: g.key)
    course.last = max(course.last, given.day)
    if not part:
        course.k += 1
        _check_range(course, given, terms)
    _count(colony, "applications", given, terms, treatment)
    return course


def _which(
    mine: list[Course], given: Given, gap: dict[str, Any] | None, answer: Answer | None
) -> Course | None:
    """Return the course that an application joins, or None for a new one."""
    if gap is None:
        return None
    last = mine[-1]
    over = last.stopped is not None or last.left is not None
    since = (given.day - max(c.last for c in mine)).days
    least, most = gap.get("least"), gap.get("most")
    early = least is not None and since < least
    if most is None:
        joined = None if over else last
        if answer is not None:
            named = [c for c in mine if any(g.id == answer.course for g in c.given)]
            joined = named[0] if named else None
            if joined is not None:
                joined.followed = None
        if joined is not None:
            given.flags.add("early" if early else "timing not known")
        return joined
    if over or since > 2 * most:
        return None
    if early:
        given.flags.add("early")
    if since > most:
        given.flags |= {f"late by {since - most}", "cover broken"}
    return last


def _begin(
    colony: Colony,
    mine: list[Course],
    given: Given,
    terms: Terms,
    plan: Plan | None,
    treatment: str,
) -> Course:
    before = [c for c in colony.courses if c.treatment == treatment]
    for old in mine[-1:]:
        if old.below and old.stopped is None and old.left is None:
            old.followed = given.day
    course = Course(treatment, terms, [], planned_number(terms, plan), given.day, before=before)
    if plan is not None:
        course.plan, course.plan_id = plan.body, plan.id
        _compare_with_label(course)
    colony.courses.append(course)
    _count(colony, "courses", given, terms, treatment)
    return course


def _compare_with_label(course: Course) -> None:
    plan = course.plan or {}
    applications = course.terms.value("applications") or {}
    most = applications.get("most", usual_of(applications))
    inside = applications.get("least", 1) <= plan["number"] <= most
    if plan["gap"] != (course.terms.value("gap") or {}) or not inside:
        course.flags.add("differs from label")


def usual_of(applications: dict[str, Any]) -> int:
    """Return how many applications are surely inside a label's range."""
    number: int = applications.get("usual", applications.get("least", 1))
    return number


def _check_range(course: Course, given: Given, terms: Terms) -> None:
    """Extend a complete course inside the label's range; flag what lies beyond it."""
    applications = course.terms.value("applications") or {}
    most = applications.get("most")
    if course.plan is not None and course.plan["ground"] == "label in hand":
        most = course.plan["number"]
    if most is None:
        if course.k > usual_of(applications):
            given.flags.add("range not known")
        elif course.n is not None:
            course.n = max(course.n, course.k)
    elif course.k > most:
        given.flags.add("over label")
    elif course.n is not None and course.k > course.n:
        course.n = course.k


def _count(colony: Colony, what: str, given: Given, terms: Terms, treatment: str) -> None:
    """Count towards the limit a year, and flag what exceeds it, with the number."""
    key = (treatment, what, given.day.year)
    colony.counts[key] = number = colony.counts.get(key, 0) + 1
    limit = terms.value("limit")
    if limit is None:
        given.flags.add("limit not known")
    elif limit["counts"] == what and number > limit["number"]:
        given.flags |= {"over label", f"{number} of {limit['number']} a year"}


def count_double(colony: Colony, course: Course, first: str, terms: Terms) -> None:
    """Count an unanswered double for the limit alone; it joins no course."""
    earliest = next(given for given in course.given if given.id == first)
    _count(colony, "applications", earliest, terms, course.treatment)
    if course.given[0].id == first:
        _count(colony, "courses", earliest, terms, course.treatment)


def stop(boxes: Boxes, colony: Colony, treatment: str, day: date) -> None:
    """The keeper stops the colony's course: the last one, unless it is complete or over.

    What a course that has no bees any more, or that was united, still closes ends as well.
    """
    mine = [c for c in colony.courses if c.treatment == treatment and not c.united]
    for course in mine[-1:]:
        if course.stopped is None and course.left is None and (course.below or course.pieces_in):
            course.stopped = day
    for segment in boxes.segments:
        course = segment.course
        over = course.united or course not in colony.courses
        if over and course.treatment == treatment and segment.cap is None:
            segment.cap = day


def broken_off(course: Course, day: date) -> bool:
    """Below its planned number and followed by a new one, or out of time on `day`."""
    if not course.below:
        return False
    if course.followed is not None:
        return True
    most = (course.gap or {}).get("most")
    return most is not None and day > course.last + days(2 * most)


def state_of(course: Course, day: date, early: bool, stay_not_known: bool) -> str:
    """Return the course's state in the words of the rules."""
    if course.united:
        return "united"
    if course.stopped is not None:
        return "stopped"
    if course.left is not None:
        return "left with the swarm"
    if course.pieces_in:
        return "pieces in"
    if broken_off(course, day):
        return "broken off"
    if course.below:
        return "running"
    if early:
        return "taken out early"
    return "stay not known" if stay_not_known else "complete"


def rest_flag(course: Course) -> str | None:
    """Return *too soon*, *rest not known*, or None where the course began after its rest."""
    start = course.given[0].day
    if any(e.open or (e.last_out or date.min) > start for e in course.pieces_before):
        return "too soon"
    if not course.before:
        return None
    end = date.min
    for old in course.before:
        end = max([end, *(given.day for given in old.given if given.day <= start)])
        if old.left is not None:
            end = max(end, old.left)
        for exposure in old.exposures:
            if exposure.pieces and exposure.first <= start:
                if exposure.open or (exposure.last_out or date.min) > start:
                    return "too soon"
                end = max(end, exposure.last_out or date.min)
    rest = course.terms.value("rest")
    if not rest:
        return "rest not known"
    free = add_months(end, rest.get("months", 0)) + days(rest.get("days", 0))
    return "too soon" if start < free else None


def due_window(
    course: Course, day: date
) -> tuple[date | None, date | None, date | None, str] | None:
    """Return (first, target, last, timing) of the next application, or None: nothing is due."""
    over = course.united or course.stopped is not None or course.left is not None
    gap = course.gap
    if over or course.followed is not None or not course.below or gap is None:
        return None
    least, target, most = (
        course.last + days(gap[name]) if name in gap else None
        for name in ("least", "target", "most")
    )
    if most is not None and day > course.last + days(2 * gap["most"]):
        timing = "ask"
    elif most is not None and day > most:
        timing = "late"
    elif least is not None and day < least:
        timing = "waiting"
    else:
        timing = "due"
    return least, target, most, timing
