"""Closed days of a course: between its applications and, below its number, after them."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.closing import Draft, End, Facts, open_terms
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.periods import holding
from fieldapp.husbandry.state import Cause, Course
from fieldapp.husbandry.terms import Terms


def course_causes(course: Course, members: Sequence[Draft], facts: Facts) -> list[Cause]:
    """Return the closed days of a course: between its applications and, below its number, after.

    Days that follow each other and say the same of supers are one cause; none where the terms
    want none.
    """
    in_order = sorted(members, key=lambda draft: draft.key)
    after = _course_end(course, max(course.last, in_order[-1].day))
    found: list[Cause] = []
    for place, draft in enumerate(in_order):
        # What may be a second record of one application ends no days after another.
        following = next((d for d in in_order[place + 1 :] if course.has(d.record)), None)
        end = after if following is None else (following.day, "")
        closes, off = _closes_after(course, draft, facts)
        if not closes or end == (draft.day, ""):
            continue
        until = draft.key if following is None else following.key
        if found and found[-1].until == draft.key and found[-1].wants_off == off:
            found[-1] = found[-1]._replace(
                last=end[0],
                why=end[1],
                end=until[0],
                until=until,
                super_last=end[0] if off else found[-1].super_last,
            )
        else:
            found.append(_days_after(course, draft, off, end, until))
    return found


def _days_after(course: Course, draft: Draft, off: bool, end: End, until: Key) -> Cause:
    return Cause(
        record=draft.record,
        treatment=course.treatment,
        terms=course.terms,
        course=course.id,
        hive=draft.hive,
        first=draft.day,
        last=end[0],
        why=end[1],
        end=until[0],
        key=max(draft.key, draft.joined),
        until=until,
        exposes=off,
        wants_off=off,
        super_last=end[0] if off else draft.day - 1,
        period="",
        of_course=True,
        inherited=draft.joined > draft.key,
    )


def _closes_after(course: Course, draft: Draft, facts: Facts) -> tuple[bool, bool]:
    """Return whether the days after an application are closed, and whether supers are off."""
    closes = off = False
    for name in {draft.terms, course.terms}:
        for terms in open_terms(name, course.treatment, facts):
            mine, wants = _whole_course(terms, course.treatment, draft.hive, facts)
            closes |= mine
            off |= wants
    return closes, off


def _whole_course(terms: Terms, treatment: str, hive: str, facts: Facts) -> tuple[bool, bool]:
    """Return whether the days between applications are closed, and whether supers are off."""
    if terms.supers == "off, at applications":
        return False, False
    if terms.supers == "allowed":
        periods = holding(facts.entries(treatment), terms, hive)
        return not periods or not all(period.zero for period in periods), False
    return True, True


def _course_end(course: Course, last: int) -> End:
    if not course.below:
        return (last, "")
    most = course.gap.most if course.gap else None
    if most is None:
        return (None, "answer") if course.closes_to is None else (max(last, course.closes_to), "")
    end = last + 2 * most
    if course.closes_to is not None:
        end = max(last, min(end, course.closes_to))
    return (end, "")


def still_closes(course: Course) -> int | None:
    """Return the last day on which a course may yet close its boxes; None where not known."""
    if course.ended in _OVER:
        return _course_end(course, course.last)[0]
    most = course.gap.most if course.gap else None
    return None if most is None else course.last + 2 * most


_OVER = frozenset({"stopped", "broken off"})
