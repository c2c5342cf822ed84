"""The next application of each course, and what is asked of a course."""

from __future__ import annotations

from collections.abc import Iterator

from fieldapp.husbandry.agenda.items import item, name_of, sourced
from fieldapp.husbandry.answers import Item, Reason, Timing
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.progress import course_state, next_window, of_number
from fieldapp.husbandry.progress import timing as by_days
from fieldapp.husbandry.state import Course, HiveState
from fieldapp.words import say


def courses(state: HiveState, day: int) -> Iterator[Item]:
    """The next application of each course, and applications that may belong to several."""
    for course in state.courses:
        window = next_window(course)
        if window is not None:
            yield from _next_application(state, course, day)
        if course.asks and not course.ended:
            name = name_of(state, course.terms, course.treatment)
            what = say("{name}: which course does the application belong to?", name=name)
            said = Reason(say("days between not known"), (course.asks[-1], course.id))
            yield item(
                state, "joins", "ask", (course.last, None, None), what, [said], course.treatment
            )


def _next_application(state: HiveState, course: Course, day: int) -> Iterator[Item]:
    word = course_state(course, state, day)
    name = name_of(state, course.terms, course.treatment)
    reasons = [_why_next(state, course)]
    window = next_window(course)
    days = (None, None, None) if window is None else (window.first, window.target, window.last)
    number = of_number(course)
    if word == "pieces in":
        # More pieces may be due while the first are in: judged by the days alone.
        word = by_days(course, day)
    if word == "broken off":
        ended = course.last + 2 * (course.gap.most or 0) + 1 if course.gap else None
        what = say(
            "{name}: broken off after {number}. Start again, or stop?", name=name, number=number
        )
        yield item(state, "restart", "ask", (ended, None, None), what, reasons, course.treatment)
        return
    what = say("{name}: next application, {number} given", name=name, number=number)
    timings: dict[str, Timing] = {"waiting": "waiting", "late": "late"}
    yield item(state, "apply", timings.get(word, "due"), days, what, reasons, course.treatment)


def _why_next(state: HiveState, course: Course) -> Reason:
    terms, plan = state.terms.get(course.terms), state.plans.get(course.plan)
    gap = course.gap
    records = (course.doses[-1].id, *((plan.id,) if plan else ()))
    if gap is None or gap.most is None:
        said = say("last given on {day}, days between not known", day=as_date(course.last))
    elif gap.least is None:
        said = say(
            "last given on {day}, at most {most} days between",
            day=as_date(course.last),
            most=gap.most,
        )
    else:
        said = say(
            "last given on {day}, {least} to {most} days between",
            day=as_date(course.last),
            least=gap.least,
            most=gap.most,
        )
    if plan is not None:
        return Reason(said, records, "", plan.ground)
    return sourced(terms, "gap", said, records)
