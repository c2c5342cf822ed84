"""Looks and counts: the day after, the queen after it, mites after a course, the board."""

from __future__ import annotations

from collections.abc import Iterator

from fieldapp.husbandry.agenda.items import item, name_of, sourced, timing_of
from fieldapp.husbandry.answers import Item, Reason
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.progress import course_state, last_day
from fieldapp.husbandry.state import Course, Dose, HiveState
from fieldapp.husbandry.terms import Terms
from fieldapp.words import Phrase, say

#: A look the day after is not asked for any more so many days after the application.
LOOK_AFTER_ENDS = 7
#: A count after a course: not before so many days after its end; asked for so many.
COUNT_AFTER, COUNT_ENDS = 14, 60
#: Where the first of these stands (row B10b of docs/sources.md); it bears no year.
_COLOSS = "COLOSS BEEBOOK, Varroa, 4.5.4.2.6.1"
#: What tells of the queen: a look that does, and whatever was done with her.
_OF_QUEEN = frozenset({"looked", "caged", "released", "removed", "introduced", "died"})
#: Courses that are over; one that was broken off is asked about first.
_OVER = frozenset({"complete", "taken out early", "stay not known", "stopped"})
#: A board is read after so many days at the earliest, the target, the latest (common practice).
BOARD_DAYS = (1, 3, 7)


def looks(state: HiveState, day: int) -> Iterator[Item]:
    """The look of the day after, and for the queen."""
    for course in state.courses:
        terms = state.terms.get(course.terms)
        if terms is not None and terms.form == "act":
            continue
        for dose in course.doses:
            if dose.day <= day <= dose.day + LOOK_AFTER_ENDS and not course.ended:
                yield from _look_after(state, course, dose, day)
            own = state.terms.get(dose.terms) or terms
            if own is not None and own.look_queen is not None:
                yield from _look_queen(state, course, dose, own, day)


def _look_after(state: HiveState, course: Course, dose: Dose, day: int) -> Iterator[Item]:
    done = any(
        event.what == "day after"
        and (event.ref == dose.id or (not event.ref and event.day > dose.day))
        for event in state.events
    )
    if not done:
        name = name_of(state, course.terms, course.treatment)
        first = dose.day + 1
        what = say("{name}: the day after: entrance and board first", name=name)
        said = Reason(
            say("given on {day}", day=as_date(dose.day)), (dose.id,), "", "common practice"
        )
        timing = timing_of(first, first + 1, day)
        yield item(
            state, "look_after", timing, (first, first, first + 1), what, [said], course.treatment
        )


def _look_queen(
    state: HiveState, course: Course, dose: Dose, terms: Terms, day: int
) -> Iterator[Item]:
    due = dose.day + (terms.look_queen or 0)
    done = any(event.what in _OF_QUEEN and event.day >= due for event in state.events)
    if dose.day <= day <= due + 30 and not done:
        said = sourced(
            terms, "look_queen", say("given on {day}", day=as_date(dose.day)), (dose.id,)
        )
        what = say("{name}: look for the queen", name=terms.name)
        timing = timing_of(due, due + 7, day)
        yield item(state, "look_queen", timing, (due, due, due + 7), what, [said], course.treatment)


def counts(state: HiveState, day: int) -> Iterator[Item]:
    """A count that tells whether the last course worked."""
    ended = _to_count(state, day)
    if ended is not None:
        name = name_of(state, ended[1].terms, ended[1].treatment)
        what = say("{name}: count mites: did it work?", name=name)
        yield _after_course(state, ended, "count_after", what, 2 * COUNT_AFTER, day)


def _to_count(state: HiveState, day: int) -> tuple[int, Course] | None:
    """Return the last course and its end where a count is to tell whether it worked."""
    ended = []
    for course in state.courses:
        if not course.pieces and max(course.last, course.left_pieces or 0) < day - COUNT_ENDS:
            continue  # ended too long ago, and years of such are not gone through
        if course_state(course, state, day) in _OVER:
            end = last_day(course, state)
            if end is not None:
                ended.append((end, course))
    if not ended:
        return None
    end, course = max(ended, key=lambda pair: pair[0])
    again = any(other.first > end for other in state.courses)
    first = end + COUNT_AFTER
    done = any(event.what == "count" and event.day >= first for event in state.events)
    return (end, course) if end <= day <= end + COUNT_ENDS and not again and not done else None


def _after_course(
    state: HiveState, ended: tuple[int, Course], task: str, what: Phrase, most: int, day: int
) -> Item:
    """Return what is asked from `COUNT_AFTER` days after the end of a course, to `most` after."""
    end, course = ended
    first, last = end + COUNT_AFTER, end + most
    said = say(
        "the course ended on {day}; no verdict before {days} days after it",
        day=as_date(end),
        days=COUNT_AFTER,
    )
    why = Reason(said, (course.id,), _COLOSS, "reported")
    timing = timing_of(first, last, day)
    return item(state, task, timing, (first, first, last), what, [why], course.treatment)


def boards(state: HiveState, day: int) -> Iterator[Item]:
    """A board that is to go in for a count, where the keeper uses one, or that is in."""
    boards = [event for event in state.events if event.what in ("board in", "board out")]
    if not boards:
        return
    if boards[-1].what == "board out":
        yield from _board_in(state, boards[-1].day, day)
        return
    put = boards[-1]
    first, target, last = (put.day + days for days in BOARD_DAYS)
    said = Reason(
        say("board in since {day}", day=as_date(put.day)), (put.key[3],), "", "common practice"
    )
    yield item(
        state,
        "board_out",
        timing_of(first, last, day),
        (first, target, last),
        say("Read the board and take it out"),
        [said],
    )


def _board_in(state: HiveState, out: int, day: int) -> Iterator[Item]:
    """The board for the count after a course, so early that it can be read in the count's days."""
    ended = _to_count(state, day)
    if ended is not None and out < ended[0] + COUNT_AFTER:
        name = name_of(state, ended[1].terms, ended[1].treatment)
        what = say("{name}: board in, for the count after it", name=name)
        yield _after_course(state, ended, "board_in", what, 2 * COUNT_AFTER - BOARD_DAYS[1], day)
