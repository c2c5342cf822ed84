"""Courses of one treatment to one colony: what an application joins, and what it is flagged as.

A `Track` is all that the next application of the treatment needs to know of those before it.
It is a value: split, swarm and transfer copy it, a unite makes one of two.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from fieldapp.husbandry.days import Key, year_of
from fieldapp.husbandry.state import Course, Dose, Flag, Plan
from fieldapp.husbandry.terms import Gap, Range, Terms

#: Who answers *which course does it join?*: nobody yet, or a new course.
UNANSWERED, NEW = "", "new"

LIMIT_NOT_KNOWN = "limit not known"

#: After these a further application begins a new course, whatever the days between.
_OVER = frozenset({"stopped", "left with the swarm"})

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
        return _differs(self.label(course), (terms.gap if terms else None) or Gap(), plan)


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
        over = course.ended in _OVER and given.joins == UNANSWERED
        if over or given.joins == NEW:
            return _start(track, given, colony, hive), _broken_off(course, given.day)
        flags = flags or (Flag("timing not known", record=given.id),)
        joined = course if isinstance(given.joins, str) else given.joins
        return _join(track, joined, given, flags, known, asks=given.joins == UNANSWERED)
    if course.ended in _OVER or passed > 2 * gap.most:
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
            _differs(terms.number or Range(), terms.gap or Gap(), plan) if plan is not None else ()
        ),
        rest_from=rest_from,
        before=before,
        inside=given.inside,
    )
    last = max(track.last, given.day) if track is not None else given.day
    return Track(course, last, rest_from, before, year, courses, applications)


def pieces_before(track: Track) -> tuple[str, ...]:
    """Return the pieces of a track's courses."""
    return (*track.pieces, *track.course.pieces)


def ends_before(track: Track) -> int:
    """Return the latest end of a track's courses, as far as it is known without their pieces."""
    course = track.course
    known = (track.rest_end, course.left_pieces)
    return max(track.last, course.last, *(end for end in known if end is not None))


def _differs(label: Range, gap: Gap, plan: Plan) -> tuple[Flag, ...]:
    """Return the flag of a plan with other days or another number than the label has."""
    most = label.most if label.most is not None else label.surely
    same_days = plan.gap == gap
    if same_days and (label.least or 1) <= plan.number <= most:
        return ()
    return (Flag("other days", record=plan.id),)


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


def unite(
    mine: Track, theirs: Track, day: int, pieces_in: tuple[bool, bool]
) -> tuple[Track, Course]:
    """Return the track that goes on after a unite, and the other one's last course.

    The larger k goes on, but a complete course does not complete one below its number: then
    the lower goes on and it is asked. Only courses that can still be joined, or wait for their
    pieces, are united.
    """
    ours, others = mine.course, theirs.course
    live = (_live(ours, day, pieces_in[0]), _live(others, day, pieces_in[1]))
    if all(live):
        flags: tuple[Flag, ...] = ()
        goes, ended = (others, ours) if others.k > ours.k else (ours, others)
        if ours.below != others.below:
            goes, ended = (ours, others) if ours.below else (others, ours)
            flags = (Flag("ask which goes on", record=ended.id),)
        course = goes._replace(
            last=max(ours.last, others.last),
            flags=goes.flags + flags,
            asks=goes.asks if goes.id != ended.id else tuple(sorted({*goes.asks, *ended.asks})),
            pieces=tuple(dict.fromkeys((*goes.pieces, *ended.pieces))),
        )
        unknown = ended.gap is None or ended.gap.most is None
        ended = ended._replace(
            ended="united", ended_on=day, closes_to=day if unknown else ended.closes_to
        )
    else:
        later = ours if ours.began >= others.began else others
        course = (ours if live[0] else others) if any(live) else later
        ended = stale(others if course is ours else ours, day)
    year = max(mine.year, theirs.year)
    counted = [track for track in (mine, theirs) if track.year == year]
    track = Track(
        course,
        max(mine.last, theirs.last),
        max(ends_before(mine), ends_before(theirs)),
        tuple(dict.fromkeys((*pieces_before(mine), *pieces_before(theirs)))),
        year,
        max(track.courses for track in counted),
        max(track.applications for track in counted),
    )
    return track, ended


def _live(course: Course, day: int, pieces_in: bool) -> bool:
    """Whether by `day` an application could still join the course, or its pieces are in."""
    if course.ended in _OVER:
        return False
    if pieces_in:
        return True
    gap = course.gap
    if course.ended:
        return False
    if gap is None or gap.most is None:
        return course.below or gap is not None
    return day <= course.last + 2 * gap.most


def open_to_join(course: Course) -> bool:
    """Whether an application may yet join, be it by the keeper's own plan or answer."""
    return course.ended not in _OVER


def stale(course: Course, day: int) -> Course:
    """Return the course as *broken off* where by `day` its cover ended below its number."""
    if course.ended or course.gap is None or course.gap.most is None or not course.below:
        return course
    ended_on = course.last + 2 * course.gap.most + 1
    return course if day < ended_on else course._replace(ended="broken off", ended_on=ended_on)
