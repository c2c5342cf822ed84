"""The engine's answers and the oracle's in one plain form, so that they can be laid side by side.

Both sides become a `View`: a flat dict from what is asked (a tuple that begins with the topic)
to the answer. Where they differ, the keys say at once about what: see `differences`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Any

from plain_rules import Answers, CourseAnswer, ExposureAnswer, answers

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.answers import Item
from fieldapp.husbandry.days import as_date, as_date_or_none
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.progress import course_state, next_window, window_of
from fieldapp.husbandry.state import Course, Exposure, Flag, HiveState
from fieldapp.husbandry.staying import stayed
from fieldapp.journal.record import Record

#: What is asked → the answer. The first part of a key is the topic.
View = dict[tuple[str, ...], Any]
Difference = tuple[tuple[str, ...], Any, Any]

#: A course below its number that goes on: when its next application is due is asked apart.
_RUNNING = frozenset({"waiting", "due", "late", "timing not known", "part dose"})
#: How an exposure's stay is judged shows in the exposure and, where it matters, in the state.
_UNDER_WAY = frozenset({"running", "broken off"})
_GONE = "colony gone"
_STAY = frozenset({"taken out early", "stay not known"})


def compare(records: Iterable[Record], day: date) -> list[Difference]:
    """Return where oracle and engine differ on `day`: what is asked, and both answers."""
    records = list(records)
    told = answers(records, day)
    one, other = of_oracle(told), of_engine(records, day)
    for view in (one, other):
        _clip(view, told.came, day)
    for key in [k for k in {*one, *other} if k[0] in ("honey from", "supers from")]:
        # A hive of which only one side has heard is open.
        one.setdefault(key, day)
        other.setdefault(key, day)
    older = {key for key in one if key[0] == "course" and one[key].pop("older")}
    # Of emptied boxes the engine tells what was given there before as well.
    nobody = {hive for hive, (colony, _) in told.living.items() if not colony}
    for key in [k for k in other if k[0] == "course" and k[1] in nobody and k not in one]:
        del other[key]
    settled = {hive for hive, since in told.came.items() if since == date.min}
    return [
        (key, one.get(key), other.get(key))
        for key in sorted({*one, *other})
        if one.get(key) != other.get(key) and (key not in older or key[1] in settled)
    ]


def _clip(view: View, came: dict[str, date], day: date) -> None:
    """Leave out closed days before combs or bees last came into the boxes.

    What was over by then is of no use there; the engine drops it, the oracle copies it.
    """
    for hive, since in came.items():
        if day < since:
            view.pop(("honey from", hive), None)
            view.pop(("supers from", hive), None)
        spans = view.pop(("closed", hive), ())
        left = tuple(
            (max(first, since), last) for first, last in spans if last is None or last >= since
        )
        if left:
            view["closed", hive] = left


# The oracle


def of_oracle(answers: Answers) -> View:
    """Return what the oracle answered."""
    view: View = {}
    for hive, spans in answers.closed.items():
        if spans:
            view["closed", hive] = spans
        view["honey from", hive] = answers.honey_from[hive]
        view["supers from", hive] = answers.supers_from[hive]
        for course in _living(answers, hive):
            plain = _plain_course(course, answers.living[hive][1])
            plain["older"] = not course.latest
            key = ("course", hive, course.treatment, course.ids[0])
            # A part that came back brings courses of the same beginning: the last one is asked.
            if key not in view or course.latest:
                view[key] = plain
        for due in answers.due[hive]:
            view["due", hive, due.treatment, due.course] = (
                due.first,
                due.target,
                due.last,
                due.timing,
            )
        for exposure in answers.exposures[hive]:
            view["pieces", hive, exposure.treatment, exposure.id] = _plain_pieces(exposure)
    for (mark, hive_of), certain in answers.supers.items():
        view["super", mark, hive_of or ""] = certain
    for lot in answers.held:
        view["held", lot] = True
    for question in answers.questions:
        asked = (question[0], question[2]) if question[0] == "unite" else question
        view["question", *asked] = True
    return view


def _living(answers: Answers, hive: str) -> list[CourseAnswer]:
    """Return the courses of the colony that lives in the hive, or died there."""
    colony, _ = answers.living.get(hive, (None, False))
    return [course for course in answers.courses[hive] if course.colony == colony]


def _plain_course(course: CourseAnswer, dead: bool) -> dict[str, Any]:
    return {
        "k": course.k,
        "n": course.n,
        "state": _GONE if dead and course.state in _UNDER_WAY else course.state,
        "flags": sorted(course.flags - _STAY),
        "ids": course.ids,
    }


def _plain_pieces(exposure: ExposureAnswer) -> dict[str, Any]:
    window = (exposure.remove_first, exposure.remove_last)
    timing = exposure.timing
    if timing is not None and window == (None, None):
        timing = "ask"
    plain = {
        "first in": exposure.first_in,
        "in": exposure.put_in,
        "out": exposure.out,
        "lost": exposure.lost,
        "end": exposure.end,
        "flags": sorted(exposure.flags),
        "timing": timing,
    }
    if exposure.open:
        plain["window"] = window
        plain["condition"] = exposure.condition
        plain["look on"] = exposure.look_on
        plain["present"] = exposure.present
    return plain


# The engine


def of_engine(records: Iterable[Record], day: date) -> View:
    """Return what the engine answers, from records in any order, on `day`."""
    operation = Operation()
    operation.take(records)
    view: View = {}
    for hive in operation.hives:
        view.update(_of_hive(operation.state(hive), day))
    for question in operation.heads():
        view["question", "heads", *question.records] = True
    return view


def _of_hive(state: HiveState, day: date) -> View:
    hive = state.hive
    view: View = {}
    told = honey(state, day)
    spans = tuple((as_date(row.first), as_date_or_none(row.last)) for row in state.closed)
    if spans:
        view["closed", hive] = spans
    view["honey from", hive] = told.honey_from
    view["supers from", hive] = told.supers_from
    items = hive_agenda(state, day)
    for course in (course for course in state.courses if course.colony == state.colony):
        view["course", hive, course.treatment, course.id] = _course(course, state, day)
    for item in items:
        if item.task in ("apply", "restart"):
            course = _course_of(item, state)
            view["due", hive, course.treatment, course.id] = _due(course, item)
    for exposure in state.exposures:
        view["pieces", hive, exposure.treatment, exposure.id] = _pieces(exposure, state, day, items)
    for each in state.supers:
        if each.exposed:
            view["super", each.mark, "" if each.mark else hive] = each.certain
    for drawn in state.drawn:
        if drawn.held:
            view["held", drawn.lot] = True
    view.update({("question", *asked): True for asked in _questions(state)})
    return view


def _course_of(item: Item, state: HiveState) -> Course:
    return next(
        course
        for course in state.courses
        if course.doses[-1].id == item.reasons[0].records[0] and next_window(course) is not None
    )


def _due(course: Course, item: Item) -> tuple[date | None, date | None, date | None, str]:
    window = next_window(course)
    assert window is not None
    first, target, last = map(as_date_or_none, window)
    return first, target, last, item.timing


def _course(course: Course, state: HiveState, day: date) -> dict[str, Any]:
    word = course_state(course, state, day.toordinal())
    flags = {*course.flags, *(flag for dose in course.doses for flag in dose.flags)}
    if state.dead is not None and state.colony and word == "broken off":
        word = _GONE
    return {
        "k": course.k,
        "n": course.n,
        "state": "running" if word in _RUNNING else word,
        "flags": sorted({said for flag in flags for said in _flag(flag)}),
        "ids": tuple(dose.id for dose in course.doses),
    }


def _flag(flag: Flag) -> Iterator[str]:
    if flag.word == "late":
        yield f"late by {flag.n}"
        yield "cover broken"
    elif flag.word == "over limit":
        yield "over label"
        yield f"{flag.n} of {flag.limit} a year"
    elif flag.word == "other days":
        yield "differs from label"
    elif flag.word != "ask which goes on":
        yield flag.word


def _pieces(exposure: Exposure, state: HiveState, day: date, items: list[Item]) -> dict[str, Any]:
    window = window_of(exposure, state, day.toordinal())
    judged = "stay not known" if window is None else stayed(exposure, window)
    flags = {flag.word for flag in exposure.flags}
    plain: dict[str, Any] = {
        "first in": as_date(exposure.first),
        "in": exposure.into,
        "out": exposure.out,
        "lost": exposure.lost,
        "end": as_date_or_none(exposure.last_out),
        "timing": None,
    }
    if exposure.open:
        if exposure.not_found:
            flags.add("not found")
        plain["timing"] = _timing(exposure, items)
        terms = state.terms.get(exposure.terms)
        known = window is not None and terms is not None and terms.stay
        plain["window"] = (
            (as_date_or_none(window.least), as_date_or_none(window.most))
            if window is not None
            else (None, None)
        )
        plain["condition"] = (window.condition or "any") if window and known else "not known"
        plain["look on"] = as_date_or_none(window.decides_on) if window else None
        plain["present"] = None if exposure.into is None else exposure.remaining
    elif judged in _STAY:
        flags.add(judged)
    plain["flags"] = sorted(flags)
    return plain


def _timing(exposure: Exposure, items: list[Item]) -> str | None:
    """Return when these pieces are to come out, or the look that decides it is to be made."""
    for task in ("remove", "look_brood"):
        for item in items:
            if item.task == task and item.reasons[0].records[:1] == (exposure.id,):
                return item.timing
    return None


def _questions(state: HiveState) -> Iterator[tuple[str, ...]]:
    for question in state.questions:
        if question.what == "twice":
            yield ("twice", *sorted(question.records))
        elif question.what in ("split", "joins"):
            yield (question.what, question.records[0])
        elif question.what == "unite":
            yield (question.what, question.treatment)
