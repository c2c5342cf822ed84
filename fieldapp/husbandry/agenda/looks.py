"""Looks and counts: the day after, the queen, mites after a course, the board."""

from __future__ import annotations

from collections.abc import Iterator

from fieldapp.husbandry.agenda.items import item, name_of, sourced, timing_of
from fieldapp.husbandry.answers import Item, Reason
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.progress import course_state, last_day
from fieldapp.husbandry.state import Course, Dose, HiveState
from fieldapp.husbandry.terms import Terms
from fieldapp.words import say

#: A look the day after is not asked for any more so many days after the application.
LOOK_AFTER_ENDS = 7
#: A count after a course: not before so many days after its end; asked for so many.
COUNT_AFTER, COUNT_ENDS = 14, 60
#: Days from caging the queen until no sealed brood is left, and from release to sealed brood.
BROODLESS_AFTER, SEALED_AFTER_RELEASE = 25, 9
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
    done = any(event.what == "looked" and event.day >= due for event in state.events)
    if dose.day <= day <= due + 30 and not done:
        said = sourced(
            terms, "look_queen", say("given on {day}", day=as_date(dose.day)), (dose.id,)
        )
        what = say("{name}: look for the queen", name=terms.name)
        timing = timing_of(due, due + 7, day)
        yield item(state, "look_queen", timing, (due, due, due + 7), what, [said], course.treatment)


def counts(state: HiveState, day: int) -> Iterator[Item]:
    """A count that tells whether the last course worked."""
    course = _to_count(state, day)
    if course is None:
        return
    end, course_ = course
    first, last = end + COUNT_AFTER, end + 2 * COUNT_AFTER
    name = name_of(state, course_.terms, course_.treatment)
    what = say("{name}: count mites: did it work?", name=name)
    timing = timing_of(first, last, day)
    said = [_why_count(course_, end)]
    yield item(state, "count_after", timing, (first, first, last), what, said, course_.treatment)


def _to_count(state: HiveState, day: int) -> tuple[int, Course] | None:
    """Return the last course and its end where a count is to tell whether it worked."""
    ended = []
    for course in state.courses:
        if course_state(course, state, day) in ("complete", "taken out early", "stay not known"):
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


def _why_count(course: Course, end: int) -> Reason:
    return Reason(
        say(
            "the course ended on {day}; no verdict before {days} days after it",
            day=as_date(end),
            days=COUNT_AFTER,
        ),
        (course.id,),
        "",
        "common practice",
    )


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
    course = _to_count(state, day)
    if course is None:
        return
    end, course_ = course
    first, last = end + COUNT_AFTER, end + 2 * COUNT_AFTER - BOARD_DAYS[1]
    if out >= first:
        return
    name = name_of(state, course_.terms, course_.treatment)
    yield item(
        state,
        "board_in",
        timing_of(first, last, day),
        (first, first, last),
        say("{name}: board in, for the count after it", name=name),
        [_why_count(course_, end)],
        course_.treatment,
    )


def queen(state: HiveState, day: int) -> Iterator[Item]:
    """The broodless days after the queen was caged."""
    caged = released = None
    for event in state.events:
        if event.what == "caged":
            caged, released = event, None
        elif event.what == "released":
            released = event
        elif event.what in ("removed", "introduced", "died"):
            caged = None
    if caged is None:
        return
    first = caged.day + BROODLESS_AFTER
    last = released.day + SEALED_AFTER_RELEASE - 1 if released is not None else None
    treated = any(dose.day >= first for course in state.courses for dose in course.doses)
    if treated or (last is not None and day > last + LOOK_AFTER_ENDS):
        return
    reasons = [
        Reason(
            say(
                "queen caged on {day}: no sealed brood {days} days later",
                day=as_date(caged.day),
                days=BROODLESS_AFTER,
            ),
            (caged.key[3],),
            "UK label text AN 01519/2014, section 4.4",
            "read",
        )
    ]
    if released is not None:
        reasons.append(
            Reason(
                say(
                    "released on {day}: first newly sealed brood about {days} days later",
                    day=as_date(released.day),
                    days=SEALED_AFTER_RELEASE,
                ),
                (released.key[3],),
                "general pages on bee biology",
                "reported",
            )
        )
    yield item(
        state,
        "broodless",
        timing_of(first, last, day),
        (first, first, last),
        say("Treat now: no sealed brood, and before new brood is sealed"),
        reasons,
    )
