"""Courses of one treatment to one colony: what an application joins, and what it is flagged as.

A `Track` is all that the next application of the treatment needs to know of those before it.
It is a value: split, swarm and transfer copy it, a unite makes one of two.
"""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.husbandry.days import add_months, year_of
from fieldapp.husbandry.state import Course, Dose, Flag, Plan
from fieldapp.husbandry.terms import Gap, Range, Terms

#: Who answers *which course does it join?*: nobody yet, or a new course.
UNANSWERED, NEW = "", "new"


class Track(NamedTuple):
    """The last course of a treatment, the latest end before it, and this year's counts."""

    course: Course
    rest_end: int | None = None
    year: int = 0
    courses: int = 0
    applications: int = 0


class Given(NamedTuple):
    """One application as it reaches its course.

    `joins` is a course's id, `NEW` or `UNANSWERED`.
    """

    id: str
    day: int
    terms: Terms
    plan: Plan | None
    part: bool
    joins: str
    pieces: tuple[str, ...]


class Before(NamedTuple):
    """How the course before stands: `pieces_in`, and its last application or last piece out."""

    pieces_in: bool
    end: int


def give(  # noqa: PLR0911 — one return a case of the rule
    track: Track | None, given: Given, before: Before | None, colony: str, hive: str
) -> tuple[Track, Course | None]:
    """Return the track after an application, and the course that ended by it, if one did."""
    if track is None or before is None:
        return _start(None, given, None, colony, hive), None
    course = track.course
    if course.ended or course.gap is None:
        return _start(track, given, before, colony, hive), course
    gap, passed = course.gap, given.day - course.last
    early = gap.least is not None and passed < gap.least
    if gap.most is None:
        if given.joins == NEW or (given.joins and given.joins != course.id):
            if course.below:
                course = course._replace(ended="broken off", ended_on=given.day)
            return _start(track, given, before, colony, hive), course
        flags: tuple[Flag, ...] = ()
        if early and gap.least is not None:
            flags = (Flag("early", gap.least - passed, record=given.id),)
        else:
            flags = (Flag("timing not known", record=given.id),)
        return _join(track, given, flags, asks=not given.joins), None
    if early and gap.least is not None:
        return _join(track, given, (Flag("early", gap.least - passed, record=given.id),)), None
    if passed <= gap.most:
        return _join(track, given, ()), None
    if passed <= 2 * gap.most:
        return _join(track, given, (Flag("late", passed - gap.most, record=given.id),)), None
    if course.below:
        course = course._replace(ended="broken off", ended_on=course.last + 2 * gap.most + 1)
    return _start(track, given, before, colony, hive), course


def _label_range(terms: Terms, plan: Plan | None) -> Range | None:
    """Return how many applications the label allows: that of a plan from a label in hand first."""
    if plan is not None and plan.ground == "label in hand":
        return Range(most=plan.number)
    return terms.number


def _over(k: int, given: Given, planned: bool) -> tuple[Flag, ...]:
    """Return the flags of the k-th whole dose: over the label's number, or range not known."""
    label = _label_range(given.terms, given.plan)
    most = label.most if label else None
    if most is not None:
        return (Flag("over label", k, most, given.id),) if k > most else ()
    return () if planned else (Flag("range not known", k, record=given.id),)


def _join(track: Track, given: Given, flags: tuple[Flag, ...], asks: bool = False) -> Track:
    course = track.course
    plan, n, gap = course.plan, course.n, course.gap
    if given.plan is not None and given.plan.id != plan:
        plan, n, gap = given.plan.id, given.plan.number, _days_between(given.terms, given.plan)
    k = course.k
    if given.part:
        flags += (Flag("part dose", record=given.id),)
    else:
        k += 1
        inside = (n is not None and k <= n) and not _own(given)
        flags += _over(k, given, inside)
        label = _label_range(given.terms, given.plan)
        if n is not None and k > n and label and label.most is not None and k <= label.most:
            n = k
    flags, year, courses, applications = _counted(track, given, flags, new=False)
    dose = Dose(given.id, given.day, given.terms.id, given.part, flags)
    course = course._replace(
        last=max(course.last, given.day),
        k=k,
        n=n,
        plan=plan,
        gap=gap,
        doses=(*course.doses, dose),
        pieces=(*course.pieces, *given.pieces),
        asks=given.id if asks else course.asks,
    )
    return Track(course, track.rest_end, year, courses, applications)


def _own(given: Given) -> bool:
    """Whether the course follows the keeper's own plan as common practice."""
    return given.plan is not None and given.plan.ground != "label in hand"


def _start(
    track: Track | None, given: Given, before: Before | None, colony: str, hive: str
) -> Track:
    terms, plan = given.terms, given.plan
    flags: tuple[Flag, ...] = ()
    rest_end = None
    if track is not None and before is not None:
        rest_end = max(before.end, track.rest_end or before.end)
        flags = _rest_flags(terms, given, before.pieces_in, rest_end)
    dose_flags, year, courses, applications = _counted(track, given, (), new=True)
    gap = _days_between(terms, plan)
    if plan is not None:
        n: int | None = plan.number
    elif gap is None:
        n = 1
    else:
        n = terms.number.planned if terms.number else None
    k = 0 if given.part else 1
    if given.part:
        dose_flags += (Flag("part dose", record=given.id),)
    else:
        dose_flags += _over(k, given, planned=True)
    if plan is not None and _differs(terms, plan):
        flags += (Flag("other days", record=plan.id),)
    dose = Dose(given.id, given.day, terms.id, given.part, dose_flags)
    course = Course(
        id=given.id,
        treatment=terms.treatment,
        terms=terms.id,
        plan=plan.id if plan else "",
        colony=colony,
        hive=hive,
        first=given.day,
        last=given.day,
        k=k,
        n=n,
        gap=gap,
        doses=(dose,),
        pieces=given.pieces,
        flags=flags,
    )
    return Track(course, rest_end, year, courses, applications)


def _days_between(terms: Terms, plan: Plan | None) -> Gap | None:
    """Return the days that decide: the plan's, where it leaves one out the label's."""
    label = terms.between
    if plan is None:
        return label
    own = plan.gap
    if label is None or plan.ground == "label in hand":
        return own
    return Gap(*(mine if mine is not None else its for mine, its in zip(own, label, strict=True)))


def _differs(terms: Terms, plan: Plan) -> bool:
    """Whether the plan has other days or more applications than the label."""
    if plan.ground == "label in hand":
        return False
    label = terms.between
    return label is None or any(
        mine is not None and mine != its for mine, its in zip(plan.gap, label, strict=True)
    )


def rest_over(terms: Terms, end: int) -> int | None:
    """Return the first day on which a course may start after one that ended on `end`."""
    days, months = terms.rest
    if days is None and months is None:
        return None
    return add_months(end, months or 0) + (days or 0)


def _rest_flags(terms: Terms, given: Given, pieces_in: bool, end: int) -> tuple[Flag, ...]:
    if pieces_in:
        return (Flag("too soon", record=given.id),)
    over = rest_over(terms, end)
    if over is None:
        return (Flag("rest not known", record=given.id),)
    return (Flag("too soon", over - given.day, record=given.id),) if given.day < over else ()


def _counted(
    track: Track | None, given: Given, flags: tuple[Flag, ...], new: bool
) -> tuple[tuple[Flag, ...], int, int, int]:
    """Return flags and this year's counts after the application, judged by the yearly limit."""
    year = year_of(given.day)
    courses = applications = 0
    if track is not None and track.year == year:
        courses, applications = track.courses, track.applications
    courses, applications = courses + new, applications + 1
    limit = given.terms.limit
    if limit is None:
        flags += (Flag("limit not known", record=given.id),)
    else:
        number, counts = limit
        reached = courses if counts == "courses" else applications
        if reached > number and (new or counts == "applications"):
            flags += (Flag("over limit", reached, number, given.id),)
    return flags, year, courses, applications


def count_extra(track: Track, given: Given) -> Track:
    """Return the track after a second record of perhaps the same application.

    It counts towards limits and nothing else of the course, until it is answered.
    """
    new = track.course.gap is None
    flags, year, courses, applications = _counted(track, given, (), new=new)
    over = tuple(flag for flag in flags if flag.word == "over limit")
    course = track.course._replace(flags=track.course.flags + over)
    return Track(course, track.rest_end, year, courses, applications)


def stop(track: Track, day: int) -> Track:
    """Return the track after the keeper stopped its course; a complete one stays complete."""
    course = track.course
    if course.ended:
        return track
    return track._replace(course=course._replace(ended="stopped", ended_on=day))


def unite(mine: Track, theirs: Track, day: int, ends: tuple[int, int]) -> tuple[Track, Course]:
    """Return the track that goes on after a unite, and the course that ended as united.

    The larger k goes on, but a complete course does not complete one below its number: then
    the lower goes on and it is asked. `ends` are the ends of both for rest.
    """
    ours, others = stale(mine.course, day), stale(theirs.course, day)
    first, second = (ours, mine), (others, theirs)
    asked = False
    if _past(ours, day) != _past(others, day):
        goes = second if _past(ours, day) else first
    elif ours.below != others.below and not _past(ours, day):
        goes, asked = (first if ours.below else second), ours.gap is not None
    else:
        goes = second if others.k > ours.k else first
    course, other = goes[0], (second if goes is first else first)[0]
    flags = course.flags + ((Flag("ask which goes on", record=other.id),) if asked else ())
    course = course._replace(
        last=max(course.last, other.last) if not other.ended else course.last, flags=flags
    )
    if not other.ended:
        other = other._replace(ended="united", ended_on=day)
    rests = [end for end in (*ends, mine.rest_end, theirs.rest_end) if end is not None]
    year = max(mine.year, theirs.year)
    counted = [track for track in (mine, theirs) if track.year == year]
    return (
        Track(
            course,
            max(rests),
            year,
            max(track.courses for track in counted),
            max(track.applications for track in counted),
        ),
        other,
    )


def _past(course: Course, day: int) -> bool:
    """Whether by `day` no further application can belong to the course."""
    if course.ended:
        return True
    gap = course.gap
    return gap is not None and gap.most is not None and day > course.last + 2 * gap.most


def stale(course: Course, day: int) -> Course:
    """Return the course as *broken off* where by `day` its cover ended below its number."""
    if course.ended or course.gap is None or course.gap.most is None or not course.below:
        return course
    ended_on = course.last + 2 * course.gap.most + 1
    return course if day < ended_on else course._replace(ended="broken off", ended_on=ended_on)
