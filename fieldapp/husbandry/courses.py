"""Courses of one treatment to one colony: what an application joins, and what it is flagged as."""

from __future__ import annotations

from fieldapp.husbandry.days import year_of
from fieldapp.husbandry.state import Course, Dose, Flag, Plan
from fieldapp.husbandry.terms import Gap, Range
from fieldapp.husbandry.tracks import (
    NEW,
    UNANSWERED,
    Given,
    Known,
    Track,
    differs,
    ends_before,
    pieces_before,
)

LIMIT_NOT_KNOWN = "limit not known"

#: After these a further application begins a new course, whatever the days between.
OVER = frozenset({"stopped", "left with the swarm"})


def give(
    track: Track | None, given: Given, colony: str, hive: str, known: Known
) -> tuple[Track, tuple[Course, ...]]:
    """Return the track after an application, and courses other than its own that it changed."""
    if track is None:
        return _start(None, given, colony, hive), ()
    course = track.course
    gap = given.plan.gap if given.plan is not None else course.gap
    if gap is None:
        return _start(track, given, colony, hive), _broken_off(course, given.day)
    passed = given.day - track.last
    flags: tuple[Flag, ...] = ()
    if gap.least is not None and passed < gap.least:
        flags = (Flag("early", gap.least - passed, record=given.id),)
    if gap.most is None:
        over = course.ended in OVER and given.joins == UNANSWERED
        if over or given.joins == NEW:
            return _start(track, given, colony, hive), _broken_off(course, given.day)
        flags = flags or (Flag("timing not known", record=given.id),)
        joined = course if isinstance(given.joins, str) else given.joins
        return _join(track, joined, given, flags, known, asks=given.joins == UNANSWERED)
    if course.ended in OVER or passed > 2 * gap.most:
        return _start(track, given, colony, hive), _broken_off(course, given.day)
    if passed > gap.most:
        flags = (Flag("late", passed - gap.most, record=given.id),)
    return _join(track, course, given, flags, known)


def _broken_off(course: Course, day: int) -> tuple[Course, ...]:
    """Return the course that a new one follows, if it was below its number."""
    if course.ended or not course.below:
        return ()
    most = course.gap.most if course.gap else None
    if most is None:
        return (course._replace(ended="broken off", ended_on=day, closes_to=day),)
    return (course._replace(ended="broken off", ended_on=course.last + 2 * most + 1),)


def _range_flags(k: int, given: Given, label: Range, plan: Plan | None) -> tuple[Flag, ...]:
    """Return the flags of the k-th whole dose: over the label's number, or range not known.

    A plan from a label in hand comes before the library.
    """
    most = label.most
    if plan is not None and plan.ground == "label in hand":
        most = plan.number
    if most is not None:
        return (Flag("over label", k, most, given.id),) if k > most else ()
    return (Flag("range not known", k, record=given.id),) if k > label.surely else ()


def _join(
    track: Track,
    course: Course,
    given: Given,
    flags: tuple[Flag, ...],
    known: Known,
    asks: bool = False,
) -> tuple[Track, tuple[Course, ...]]:
    plan, n, gap, of_course = known.plans(course.plan), course.n, course.gap, course.flags
    if given.plan is not None and given.plan.id != course.plan:
        plan, n, gap = given.plan, given.plan.number, given.plan.gap
        of_course += known.differs(course, plan)
    k = course.k
    if given.part:
        flags += (Flag("part dose", record=given.id),)
    else:
        k += 1
        over = _range_flags(k, given, known.label(course), plan)
        flags += over
        if not over and n is not None:
            n = max(n, k)
    flags, year, courses, applications = _counted(track, given, flags, course)
    dose = Dose(given.id, given.day, given.terms.id, given.part, flags)
    if course.ended == "broken off":
        # The keeper says that it goes on.
        course = course._replace(ended="", ended_on=None, closes_to=None)
    joined = course._replace(
        last=max(course.last, given.day),
        k=k,
        n=n,
        plan=plan.id if plan else course.plan,
        gap=gap,
        doses=(*course.doses, dose),
        pieces=(*course.pieces, *given.made),
        flags=of_course,
        asks=(*course.asks, given.id) if asks else course.asks,
    )
    after = track._replace(
        last=max(track.last, given.day), year=year, courses=courses, applications=applications
    )
    if course.id == track.course.id:
        return after._replace(course=joined), ()
    return after, (joined,)


def _start(track: Track | None, given: Given, colony: str, hive: str) -> Track:
    terms, plan = given.terms, given.plan
    gap = terms.between if plan is None else plan.gap
    if plan is not None:
        n: int | None = plan.number
    elif gap is None:
        n = 1
    else:
        n = terms.number.planned if terms.number else None
    part = (Flag("part dose", record=given.id),) if given.part else ()
    flags, year, courses, applications = _counted(track, given, part, None)
    k = 0 if given.part else 1
    rest_from: int | None = None
    before: tuple[str, ...] = ()
    if track is not None:
        rest_from = ends_before(track)
        before = pieces_before(track)
    course = Course(
        id=given.id,
        treatment=terms.treatment,
        terms=terms.id,
        plan=plan.id if plan else "",
        colony=colony,
        hive=hive,
        first=given.day,
        last=given.day,
        began=given.key,
        k=k,
        n=n,
        gap=gap,
        doses=(Dose(given.id, given.day, terms.id, given.part, flags),),
        pieces=given.made,
        flags=(
            differs(terms.number or Range(), terms.gap or Gap(), plan) if plan is not None else ()
        ),
        rest_from=rest_from,
        before=before,
        inside=given.inside,
    )
    last = max(track.last, given.day) if track is not None else given.day
    return Track(course, last, rest_from, before, year, courses, applications)


def _counted(
    track: Track | None, given: Given, flags: tuple[Flag, ...], joined: Course | None
) -> tuple[tuple[Flag, ...], int, int, int]:
    """Return flags and this year's counts after the application, judged by the yearly limit.

    `joined` is the course that it joins, None for a new one. That no limit is known is told
    once a course.
    """
    new, year = joined is None, year_of(given.day)
    courses = applications = 0
    if track is not None and track.year == year:
        courses, applications = track.courses, track.applications
    courses, applications = courses + new, applications + 1
    limit = given.terms.limit
    if limit is None:
        if joined is None or not _limit_asked(joined):
            flags += (Flag(LIMIT_NOT_KNOWN, record=given.id),)
    else:
        number, counts = limit
        reached = courses if counts == "courses" else applications
        if reached > number and (new or counts == "applications"):
            flags += (Flag("over limit", reached, number, given.id),)
    return flags, year, courses, applications


def _limit_asked(course: Course) -> bool:
    of_doses = (flag for dose in course.doses for flag in dose.flags)
    return any(flag.word == LIMIT_NOT_KNOWN for flag in (*course.flags, *of_doses))


def count_extra(track: Track, course: Course, given: Given, of: str) -> tuple[Track, Course]:
    """Return track and course after a second record of perhaps the same application as `of`.

    It counts for pieces and towards limits and nothing else of the course, until it is answered.
    """
    joined = None if course.id == of else course
    flags, year, courses, applications = _counted(track, given, (), joined)
    if joined is None and _limit_asked(course):
        flags = tuple(flag for flag in flags if flag.word != LIMIT_NOT_KNOWN)
    course = course._replace(flags=course.flags + flags, pieces=(*course.pieces, *given.made))
    track = track._replace(year=year, courses=courses, applications=applications)
    return track._replace(course=course) if course.id == track.course.id else track, course


def stop(track: Track, day: int, pieces_in: bool) -> Track:
    """Return the track after the keeper stopped its course; a complete one stays complete."""
    course = track.course
    if course.ended or not (course.below or pieces_in):
        return track
    return track._replace(course=course._replace(ended="stopped", ended_on=day, closes_to=day))


def open_to_join(course: Course) -> bool:
    """Whether an application may yet join, be it by the keeper's own plan or answer."""
    return course.ended not in OVER


def stale(course: Course, day: int) -> Course:
    """Return the course as *broken off* where by `day` its cover ended below its number."""
    if course.ended or course.gap is None or course.gap.most is None or not course.below:
        return course
    ended_on = course.last + 2 * course.gap.most + 1
    return course if day < ended_on else course._replace(ended="broken off", ended_on=ended_on)
