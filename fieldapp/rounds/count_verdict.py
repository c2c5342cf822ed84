"""Did it work: the last course that counts can judge, or why they cannot judge the last one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.outcome import Course, Look, Outcome, earliest_look, judge_course
from fieldapp.husbandry.progress import last_day
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.state import Course as CourseState
from fieldapp.husbandry.state import HiveState
from fieldapp.husbandry.thresholds import Answer
from fieldapp.journal import happened
from fieldapp.rounds.count_told import SAYS, CountsTold, value_of
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, say

_VERDICTS: dict[str | None, tuple[Sign, Phrase]] = {
    "worked": ("done", say("It worked")),
    "did not": ("late", say("It did not work")),
    "cannot tell": ("unknown", say("Cannot tell whether it worked")),
    None: ("unknown", say("No verdict on the course")),
}


class _Judged(NamedTuple):
    course: CourseState
    outcome: Outcome


def verdict(notebook: Notebook, counts: CountsTold) -> Told | None:
    """Return whether the last course that can be judged worked; None where there was none."""
    state, biology = notebook.book.hive(counts.hive), notebook.published.biology
    courses = [each for each in state.courses if each.doses]
    if not courses:
        return None
    ends: Sequence[int | None] = [*(each.first for each in courses[1:]), None]
    judged = [
        _Judged(course, _outcome(state, course, until, counts, biology))
        for course, until in zip(courses, ends, strict=True)
    ]
    answered = [each for each in judged if each.outcome.verdict is not None]
    course, found = (answered or judged)[-1]
    terms = state.terms.get(course.terms)
    sign, words = _VERDICTS[found.verdict]
    reasons = list(found.reasons)
    if found.now is not None:
        reasons.append(Reason(say("the load after it: {says}", says=SAYS[found.now.says][1])))
    name = terms.name if terms is not None else course.treatment
    began = as_date(course.first)
    said = say("{verdict}: {name}, begun {day}", verdict=words, name=name, day=began)
    return Told(sign, said, tuple(why(reasons)))


def _outcome(
    state: HiveState, of: CourseState, until: int | None, counts: CountsTold, biology: Table
) -> Outcome:
    """Return what the counts say of a course, in the first way of counting that settles it."""
    end = None if of.below and not of.ended else last_day(of, state)
    course = Course(as_date(of.first), None if end is None else as_date(end), _in_winter(state, of))
    found: list[Outcome] = []
    for way in ("wash", "roll", "drop"):
        looks = [each for each in _looks(counts) if each.way == way]
        before = [each for each in looks if each.day <= course.first]
        late = [
            each
            for each in looks
            if each.day > course.first and (until is None or each.day.toordinal() <= until)
        ]
        earliest, _ = earliest_look(course, way, biology)
        ready = [each for each in late if earliest is not None and each.day >= earliest]
        after = (ready or late)[:1]
        if before and after:
            now = _now(counts, after[0].day, way)
            found.append(judge_course(course, before[-1], after[0], biology, now=now))
    settled = [each for each in found if each.verdict is not None]
    if found:
        return (settled or found)[0]
    earliest, _ = earliest_look(course, "wash", biology)
    reasons = [Reason(say("needs a count before the course and one after it, made alike"))]
    if earliest is not None:
        reasons.append(Reason(say("count from {day} on", day=earliest)))
    return Outcome(None, None, None, tuple(reasons))


def _now(counts: CountsTold, day: date, way: str) -> Answer | None:
    for entry in counts.entries:
        held = entry.holds
        if happened.civil(held.happened) == day and held.body["way"] == way:
            return counts.judged(held.body, day)
    return None


def _looks(counts: CountsTold) -> list[Look]:
    """Return the counts as looks at a course, oldest first; the cautious reading of each."""
    looks = []
    for entry in reversed(counts.entries):
        readings = counts.readings(entry.holds.body)
        if readings:
            day = happened.civil(entry.holds.happened)
            looks.append(Look(day, max(readings, key=value_of)))
    return looks


def _in_winter(state: HiveState, course: CourseState) -> bool:
    """Whether the course was a trickle into a colony without brood."""
    if not course.treatment.endswith("/trickle"):
        return False
    seen = [look.brood for look in state.looks if look.day <= course.last]
    return bool(seen) and seen[-1] in ("none", "hardly any")
