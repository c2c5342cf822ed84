"""Did it work: the last course that counts can judge, or why they cannot judge the last one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.outcome import (
    Course,
    Look,
    Outcome,
    beside_untreated,
    earliest_look,
    judge_course,
    judge_follow_up,
)
from fieldapp.husbandry.progress import last_day
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.state import Course as CourseState
from fieldapp.husbandry.state import HiveState
from fieldapp.husbandry.thresholds import Answer
from fieldapp.journal import happened
from fieldapp.rounds.count_looks import fallen, looks_of, untreated
from fieldapp.rounds.count_told import SAYS, CountsTold
from fieldapp.rounds.errors import TreatmentGone
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.terms import terms_body
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, say

_VERDICTS: dict[str | None, tuple[Sign, Phrase]] = {
    "worked": ("done", say("It worked")),
    "did not": ("late", say("It did not work")),
    "cannot tell": ("unknown", say("Cannot tell whether it worked")),
    None: ("unknown", say("No verdict on the course")),
}


#: Days after a course within which another is a follow-up to it; this product's own mark.
FOLLOWS = 42


class _Course(NamedTuple):
    course: CourseState
    outcome: Outcome


def verdict(notebook: Notebook, counts: CountsTold) -> Told | None:
    """Return whether the last course that can be judged worked; None where there was none."""
    state = notebook.book.hive(counts.hive)
    courses = [each for each in state.courses if each.doses]
    if not courses:
        return None
    followed: Sequence[CourseState | None] = [*courses[1:], None]
    judged = [
        _Course(course, _outcome(notebook, state, course, following, counts))
        for course, following in zip(courses, followed, strict=True)
    ]
    answered = [each for each in judged if each.outcome.verdict is not None]
    shared = [each for each in judged if each.outcome.efficacy is not None]
    course, found = (answered or shared or judged)[-1]
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
    notebook: Notebook,
    state: HiveState,
    of: CourseState,
    following: CourseState | None,
    counts: CountsTold,
) -> Outcome:
    """Return what the counts say of a course, in the first way of counting that settles it."""
    biology = notebook.published.biology
    end = None if of.below and not of.ended else last_day(of, state)
    course = Course(as_date(of.first), None if end is None else as_date(end), _in_winter(state, of))
    until = None if following is None else as_date(following.first)
    found: list[Outcome] = []
    for way in ("wash", "roll", "drop"):
        looks = [each for each in looks_of(counts) if each.way == way]
        before = [each for each in looks if each.day <= course.first]
        late = [
            each for each in looks if each.day > course.first and (not until or each.day <= until)
        ]
        earliest, _ = earliest_look(course, way, biology)
        ready = [each for each in late if earliest is not None and each.day >= earliest]
        after = (ready or late)[:1]
        if after:
            one = before[-1] if before else None
            found += _judged(notebook, counts, course, one, after[0])
    if following is not None:
        found += _by_follow_up(notebook, counts, of, following)
    settled = [each for each in found if each.verdict is not None]
    if found:
        return (settled or found)[0]
    earliest, _ = earliest_look(course, "wash", biology)
    reasons = [Reason(say("needs a count before the course and one after it, made alike"))]
    if earliest is not None:
        reasons.append(Reason(say("count from {day} on", day=earliest)))
    return Outcome(None, None, None, tuple(reasons))


def _judged(
    notebook: Notebook, counts: CountsTold, course: Course, before: Look | None, after: Look
) -> list[Outcome]:
    """Return what two counts of one way say, set off against untreated hives where there are."""
    biology = notebook.published.biology
    now = _now(counts, after.day, after.way)
    others = untreated(notebook, counts, before, after)
    if before is None:
        beside = [two for _, two in others]
        return [beside_untreated(course, after, beside, biology, now=now)] if beside else []
    pairs = [(one, two) for one, two in others if one is not None]
    alone = judge_course(course, before, after, biology, now=now)
    if alone.efficacy is None or not pairs:
        return [alone]
    set_off = judge_course(course, before, after, biology, now=now, untreated=pairs)
    return [set_off if set_off.efficacy is not None else alone]


def _by_follow_up(
    notebook: Notebook, counts: CountsTold, course: CourseState, following: CourseState
) -> list[Outcome]:
    """Return what the mites say that fell in a course and in the one that followed close on it.

    Whether that one is documented to kill enough no library tells, so it gives no verdict.
    """
    first, then = as_date(course.first), as_date(following.first)
    if following.first - course.last > FOLLOWS:
        return []
    killed = fallen(counts, first + timedelta(days=1), then)
    by_it = fallen(counts, then + timedelta(days=1), as_date(following.last + FOLLOWS))
    if killed is None or by_it is None:
        return []
    own, other = (_class(notebook, each.treatment) for each in (course, following))
    return [judge_follow_up(killed, by_it, own, other, None, notebook.published.biology)]


def _class(notebook: Notebook, treatment: str) -> str | None:
    try:
        entry = terms_body(notebook, treatment)["values"].get("class")
    except TreatmentGone:
        return None
    return None if entry is None else str(entry["value"])


def _now(counts: CountsTold, day: date, way: str) -> Answer | None:
    for entry in counts.entries:
        held = entry.holds
        if happened.civil(held.happened) == day and held.body["way"] == way:
            return counts.judged(held.body, day)
    return None


def _in_winter(state: HiveState, course: CourseState) -> bool:
    """Whether the course was a trickle into a colony without brood, or nobody saw any there.

    Mites fall for longer after such a one, so not known waits as long.
    """
    if not course.treatment.endswith("/trickle"):
        return False
    looks = [each for each in state.looks if each.day <= course.last]
    seen = [each.brood for each in looks if each.brood != "not seen"]
    return not seen or seen[-1] in ("none", "hardly any")
