"""How a course stands on a day, in the trade's words: *1 of 5*, *late by 3*, *pieces in*."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.state import Course, Exposure, Flag, HiveState
from fieldapp.husbandry.staying import Stays, stayed, stays
from fieldapp.words import Phrase, say


class Window(NamedTuple):
    """The days for the next application, as ordinals; None is not known."""

    first: int | None
    target: int | None
    last: int | None


class CourseView(NamedTuple):
    """A course as it stands on a day.

    `state` is one of ``complete``, ``waiting``, ``due``, ``late``, ``timing not known``,
    ``broken off``, ``stopped``, ``united``, ``moved``, ``left with the swarm``,
    ``colony gone``, ``pieces in``, ``taken out early``, ``stay not known``, ``part dose``.
    """

    course: Course
    state: str
    words: Phrase
    reasons: tuple[Reason, ...]
    next: Window | None


#: Shown before *pieces in*; whatever else a course is comes after it.
_BEFORE_PIECES = frozenset({"united", "stopped", "left with the swarm"})


def next_window(course: Course) -> Window | None:
    """Return the days for the next application, None where none is to follow."""
    if course.ended or course.gap is None or not course.below:
        return None
    return Window(*(None if days is None else course.last + days for days in course.gap))


def exposures_of(course: Course, state: HiveState) -> list[Exposure]:
    """Return the exposures of a course's pieces that are in this hive's boxes."""
    if not course.pieces:
        return []
    names = set(course.pieces)
    mine = [each for each in state.exposures if each.id in names or not names.isdisjoint(each.also)]
    added = {name for each in mine for name in each.also}
    return [each for each in mine if each.id not in added and not each.moved_on] or mine


def window_of(exposure: Exposure, state: HiveState, day: int) -> Stays | None:
    """Return the removal window of an exposure on a day, None where its terms are not known."""
    terms = state.terms.get(exposure.terms)
    return None if terms is None else stays(exposure, terms, state.looks, day)


def course_state(course: Course, state: HiveState, day: int) -> str:
    """Return the word for how a course stands on a day; see `CourseView`."""
    if course.ended in _BEFORE_PIECES:
        return course.ended
    pieces = exposures_of(course, state)
    if any(each.open for each in pieces):
        return "pieces in"
    if course.ended:
        return course.ended
    if not course.below:
        return _completed(course, pieces, state, day)
    if course.gap is None:
        return "part dose"
    return timing(course, day)


def _completed(course: Course, pieces: list[Exposure], state: HiveState, day: int) -> str:
    words = {course.parted}
    for exposure in pieces:
        window = window_of(exposure, state, day)
        words.add("stay not known" if window is None else stayed(exposure, window))
    for word in ("taken out early", "stay not known"):
        if word in words:
            return word
    return "complete"


def timing(course: Course, day: int) -> str:
    """Return how a course below its number stands: waiting, due, late, broken off."""
    least, _, most = course.gap or (None, None, None)
    if least is not None and day < course.last + least:
        return "waiting"
    if most is None:
        return "timing not known"
    if day <= course.last + most:
        return "due" if least is not None else "timing not known"
    return "late" if day <= course.last + 2 * most else "broken off"


def view(course: Course, state: HiveState, day: date) -> CourseView:
    """Return a course as it stands on a day, in words and with its flags as reasons."""
    asked = day.toordinal()
    word = course_state(course, state, asked)
    reasons = tuple(
        Reason(flag_words(flag), (flag.record,) if flag.record else ())
        for flag in _flags(course, exposures_of(course, state))
    )
    window = next_window(course) if word in ("waiting", "due", "late", "timing not known") else None
    return CourseView(course, word, _words(course, word, asked), reasons, window)


def _flags(course: Course, exposures: Iterable[Exposure]) -> Iterator[Flag]:
    yield from course.flags
    for dose in course.doses:
        yield from dose.flags
    for exposure in exposures:
        yield from exposure.flags


def remarks(state: HiveState, application: str) -> list[Phrase]:
    """Return the flags that name an application (its root id), in words, newest course first.

    They are those that `view` gives as reasons of the courses.
    """
    pieces = any(flag.record == application for each in state.exposures for flag in each.flags)
    return [
        flag_words(flag)
        for course in reversed(state.courses)
        for flag in _flags(course, exposures_of(course, state) if pieces else ())
        if flag.record == application
    ]


def of_number(course: Course) -> Phrase:
    """Return *3 of 5*, or *3, number not known*."""
    if course.n is None:
        return say("{k}, planned number not known", k=course.k)
    return say("{k} of {n}", k=course.k, n=course.n)


def _words(course: Course, word: str, day: int) -> Phrase:
    number = of_number(course)
    if word == "late" and course.gap and course.gap.most is not None:
        late = day - course.last - course.gap.most
        return say("{number}, late by {late}", number=number, late=late)
    if word == "broken off":
        return say("broken off after {number}", number=number)
    if word == "united":
        return say("united after {number}", number=number)
    if word in _PLAIN:
        return say("{number}, {state}", number=number, state=_PLAIN[word])
    return number


_PLAIN: dict[str, Phrase] = {
    "complete": say("complete"),
    "waiting": say("waiting"),
    "due": say("due"),
    "timing not known": say("timing not known"),
    "stopped": say("stopped"),
    "moved": say("moved to other boxes"),
    "left with the swarm": say("left with the swarm"),
    "colony gone": say("the colony is gone"),
    "pieces in": say("pieces in"),
    "taken out early": say("taken out early"),
    "stay not known": say("stay not known"),
    "part dose": say("part dose"),
}


def flag_words(flag: Flag) -> Phrase:  # noqa: PLR0911 — one return a word
    """Return a flag in words."""
    n, limit = flag.n, flag.limit
    if flag.word == "early":
        return say("early by {n}", n=n)
    if flag.word == "late":
        return say("late by {n}, cover broken", n=n)
    if flag.word == "over label":
        return say("over label: {n} applications, label {limit}", n=n, limit=limit)
    if flag.word == "over limit":
        return say("over label: {n} this year, label {limit}", n=n, limit=limit)
    if flag.word == "too soon" and n:
        return say("too soon by {n}", n=n)
    if flag.word == "more out than in":
        return say("more out than in: {n}", n=n)
    return _FLAGS[flag.word]


_FLAGS: dict[str, Phrase] = {
    "too soon": say("too soon: earlier pieces are still in"),
    "rest not known": say("rest between courses not known"),
    "limit not known": say("limit a year not known"),
    "range not known": say("range of the label not known"),
    "timing not known": say("timing not known"),
    "other days": say("the keeper's own plan, other than the label"),
    "part dose": say("part dose"),
    "ask which goes on": say("two courses were united: ask which goes on"),
}


def last_day(course: Course, state: HiveState) -> int | None:
    """Return the end of a course: last application or last piece out; None while pieces are in."""
    end = max(course.last, course.left_pieces or 0)
    for exposure in exposures_of(course, state):
        if exposure.last_out is None:
            return None
        end = max(end, exposure.last_out)
    return end
