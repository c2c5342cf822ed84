"""What the rules say of a hive on a day, as pages tell it: honey, courses, what comes next."""

from __future__ import annotations

from datetime import date

from fieldapp.husbandry.answers import Exposed, Honey, Item
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.progress import CourseView, view
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.state import HiveState
from fieldapp.rounds.due import SIGNS
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, say

#: States of a course that still asks for something.
OPEN = frozenset({"waiting", "due", "late", "pieces in", "timing not known", "stay not known"})
#: The sign of a course's state; what is not named here is past.
_COURSES: dict[str, Sign] = {
    "complete": "done",
    "due": "due",
    "pieces in": "due",
    "late": "late",
    "broken off": "late",
    "taken out early": "late",
    "timing not known": "unknown",
    "stay not known": "unknown",
    "part dose": "unknown",
}


def honey_told(state: HiveState, day: date) -> tuple[Told, ...]:
    """Return whether honey may be taken and supers go on, and from when."""
    return tuple(_honey(honey(state, day)))


def exposed_told(state: HiveState, day: date) -> dict[str, Told]:
    """Return the supers that are exposed, or may be, by their marks."""
    return {each.mark: _exposed(each) for each in honey(state, day).exposed}


def courses_in_sight(state: HiveState, day: date) -> list[CourseView]:
    """Return the courses that are open, and the last one however it ended."""
    views = [view(course, state, day) for course in reversed(state.courses)]
    return [each for n, each in enumerate(views) if n == 0 or each.state in OPEN]


def course_told(state: HiveState, view: CourseView) -> Told:
    """Return how a course stands."""
    sign = _COURSES.get(view.state, "quiet")
    # Over the label by 2, by 3, by 4: the last of the same kind says it all.
    last = {reason.phrase.text: reason for reason in view.reasons}
    return Told(sign, _course(state, view), tuple(why(last.values())))


def item_told(item: Item) -> Told:
    """Return what is to be done, and by when."""
    words = _next(item.what, item.first, item.last)
    return Told(SIGNS[item.timing], words, tuple(why(item.reasons)))


def _course(state: HiveState, view: CourseView) -> Phrase:
    terms = state.terms.get(view.course.terms)
    if terms is None:
        return view.words
    return say("{treatment}: {state}", treatment=terms.name, state=view.words)


def _honey(honey: Honey) -> list[Told]:
    reasons = tuple(why(honey.reasons))
    if honey.state == "open":
        told = [Told("done", say("Honey: open, nothing closes it today"), reasons)]
    elif honey.honey_from is not None:
        told = [
            Told(
                "closed",
                say("Honey closed: may be taken from {day}", day=honey.honey_from),
                reasons,
            )
        ]
    elif honey.state == "closed":
        told = [Told("closed", say("Honey closed: the end is not known"), reasons)]
    else:
        told = [Told("unknown", say("Honey: not known, treat it as closed"), reasons)]
    if honey.supers_from is not None:
        if honey.state != "open":
            told.append(Told("quiet", say("Supers may go on from {day}", day=honey.supers_from)))
    else:
        told.append(Told("unknown", say("When supers may go on is not known")))
    return told


def _exposed(super_: Exposed) -> Told:
    reasons = tuple(why(super_.reasons))
    if not super_.certain:
        mark = super_.mark or say("without mark")
        return Told("unknown", say("Super {mark}: exposed or not is not known", mark=mark), reasons)
    if super_.mark:
        words = say("Super {mark} is exposed: never for people", mark=super_.mark)
    else:
        words = say("The supers of this hive are exposed: never for people")
    return Told("closed", words, reasons)


def _next(what: Phrase, first: date | None, last: date | None) -> Phrase:
    if any(isinstance(value, date) for _, value in what.args):
        return what
    if first is not None and last is not None and first != last:
        return say("{what}: {first} to {last}", what=what, first=first, last=last)
    if first is not None:
        return say("{what}: from {first}", what=what, first=first)
    return what
