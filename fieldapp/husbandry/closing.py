"""Closed days of a hive: one cause for each application, one for the days of each course."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from fieldapp.husbandry.days import Key, season_end
from fieldapp.husbandry.periods import Entry, holding, next_season
from fieldapp.husbandry.state import Cause, Course, Exposure, Interval
from fieldapp.husbandry.terms import Period, Terms, unknown_terms


class Draft(NamedTuple):
    """An application on these boxes, or copied to them at `joined`, before its end is known.

    `opened`: the last closed day, where the supers of a new season had gone on before that.
    """

    record: str
    treatment: str
    terms: str
    course: str
    hive: str
    day: int
    key: Key
    exposure: str
    joined: Key
    opened: int | None = None


class Facts(NamedTuple):
    """What closed days depend on beyond a hive's own treatments."""

    terms: Callable[[str, str], Sequence[Terms]]
    entries: Callable[[str], Sequence[Entry]]
    supers_on: Sequence[Key]
    south: bool | None


#: An end of closed days and why it is missing.
End = tuple[int | None, str]


class Memo(NamedTuple):
    """What was found of a hive before under the same facts: most of it nothing touches again.

    Causes of applications by all that each rests on: the draft, the terms of its course, and
    when its pieces were in. Of courses by name the course, its drafts, and what its days close;
    by id the course, the pieces before it, and itself with its rest judged.
    """

    applications: dict[tuple[Draft, str, int, Key | None, Key | None], Cause | None]
    courses: dict[str, tuple[Course, list[Draft], list[Cause]]]
    rested: dict[str, tuple[Course, tuple[Exposure | None, ...], Course]]


def causes(
    drafts: Iterable[Draft],
    exposures: Mapping[str, Exposure],
    courses: Mapping[str, Course],
    facts: Facts,
    memo: Memo,
) -> list[Cause]:
    """Return the causes of closed days that these applications and courses make.

    `memo` holds what was found before under the same `facts`, and is added to; what waits for
    next season's supers is found anew each time.
    """
    found: list[Cause] = []
    by_course: dict[str, list[Draft]] = {}
    for draft in drafts:
        cause = known_cause(draft, exposures.get(draft.exposure), courses, facts, memo)
        if cause is not None:
            found.append(cause)
        course = courses.get(draft.course)
        if course is not None and course.gap is not None:
            by_course.setdefault(draft.course, []).append(draft)
    for name, members in by_course.items():
        course, known = courses[name], memo.courses.get(name)
        if known is None or known[0] != course or known[1] != members:
            known = (course, members, course_causes(course, members, facts))
            memo.courses[name] = known
        found += known[2]
    return found


def known_cause(
    draft: Draft,
    exposure: Exposure | None,
    courses: Mapping[str, Course],
    facts: Facts,
    memo: Memo,
) -> Cause | None:
    """Return the closed days of one application, found before or now; see `causes`."""
    course = courses.get(draft.course)
    terms = course.terms if course is not None else ""
    first, judged, out = 0, None, None
    if exposure is not None:
        first, judged, out = exposure.first, exposure.judged, exposure.last_out_key
    rests_on = (draft, terms, first, judged, out)
    try:
        return memo.applications[rests_on]
    except KeyError:
        cause = application_cause(draft, exposure, courses, facts)
    if cause is None or not cause.seasonal:
        memo.applications[rests_on] = cause
    return cause


def _all_terms(draft: Draft, courses: Mapping[str, Course], facts: Facts) -> list[Terms]:
    """Return the terms of which an application takes the later end: its own and its course's."""
    terms = _open_terms(draft.terms, draft.treatment, facts)
    course = courses.get(draft.course)
    if course is not None and course.terms != draft.terms:
        terms += _open_terms(course.terms, draft.treatment, facts)
    return terms


def _open_terms(name: str, treatment: str, facts: Facts) -> list[Terms]:
    """Return the versions of terms that stand; where none arrived, terms that say nothing."""
    return list(facts.terms(name, treatment)) or [unknown_terms(treatment, name, pieces=False)]


def _wants_off(terms: Terms) -> bool:
    """Whether supers must be off; where the terms do not say, as if they must."""
    return terms.supers != "allowed"


def application_cause(
    draft: Draft, exposure: Exposure | None, courses: Mapping[str, Course], facts: Facts
) -> Cause | None:
    """Return the closed days that one application makes from its own date, None for none.

    A treatment that closes nothing but exposes combs that are present still has a cause, with
    no closed day: its last is the day before its first.
    """
    if exposure is not None:
        first, key = min(exposure.first, draft.day), min(exposure.judged, draft.key)
        until = exposure.last_out_key
        end = until[0] if until is not None else None
    else:
        first, key, end, until = draft.day, draft.key, draft.day, draft.key
    last: End = (first - 1, "")
    super_last: int | None = first - 1
    exposes = wants_off = seasonal = False
    named = ""
    for terms in _all_terms(draft, courses, facts):
        off = _wants_off(terms)
        wants_off |= off
        exposes |= off or terms.combs_exposed
        periods = holding(facts.entries(draft.treatment), terms, draft.hive)
        if not periods:
            last = (None, "period")
            super_last = None if off else super_last
        for period in periods:
            named = period.record
            seasonal |= period.form != "days"
            closed = _closed_to(period, off, first, end, draft, facts)
            last = _later(last, closed)
            if off:
                supers = _supers_to(period, end, facts.south)
                if supers is not None and closed[0] is not None and period.form != "days":
                    supers = min(supers, closed[0])
                super_last = _later_day(super_last, supers)
    if not exposes and last == (first - 1, ""):
        return None
    inherited = draft.joined > draft.key
    if inherited:
        key = draft.joined
    return Cause(
        record=draft.record,
        treatment=draft.treatment,
        terms=draft.terms,
        course=draft.course,
        hive=draft.hive,
        first=first,
        last=last[0],
        why=last[1],
        end=end,
        key=key,
        until=until,
        exposes=exposes,
        wants_off=wants_off,
        super_last=super_last,
        period=named,
        inherited=inherited,
        seasonal=seasonal,
    )


def _closed_to(
    period: Period, off: bool, first: int, end: int | None, draft: Draft, facts: Facts
) -> End:
    if period.zero and not off:
        return (first - 1, "")
    if end is None:
        return (None, "pieces in")
    if period.form == "days":
        return (end + (period.days or 0), "")
    last = next_season(end, facts.supers_on, draft.joined, facts.south)
    if draft.opened is not None and draft.opened >= end:
        last = draft.opened
    return (last, "" if last is not None else "season")


def _supers_to(period: Period, end: int | None, south: bool | None) -> int | None:
    """Return the last day on which a super that is put on becomes exposed."""
    if end is None:
        return None
    if period.form != "days":
        sides = (False, True) if south is None else (south,)
        return max(season_end(end, side) for side in sides)
    return end if period.honey_only else end + (period.days or 0)


def _later(one: End, other: End) -> End:
    """Return the later end. Not known outlasts all, then what is not over, then the later day."""
    rank = {"period": 3, "answer": 2, "pieces in": 1, "season": 1, "": 0}
    if one[0] is None or other[0] is None:
        return max(one, other, key=lambda end: (end[0] is None, rank[end[1]]))
    return one if one[0] >= other[0] else other


def _later_day(one: int | None, other: int | None) -> int | None:
    return None if one is None or other is None else max(one, other)


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
        for terms in _open_terms(name, course.treatment, facts):
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


def joined(found: Sequence[Cause]) -> tuple[Interval, ...]:
    """Return the closed days in a row: what overlaps or touches is one, and causes are kept."""
    order = sorted(
        (cause.first, place)
        for place, cause in enumerate(found)
        if cause.last is None or cause.last >= cause.first
    )
    rows: list[Interval] = []
    first: int = 0
    last: int | None = None
    members: list[int] = []
    for begins, place in order:
        ends = found[place].last
        if members and (last is None or begins <= last + 1):
            last = _later_day(last, ends)
            members.append(place)
        else:
            if members:
                rows.append(Interval(first, last, tuple(members)))
            first, last, members = begins, ends, [place]
    if members:
        rows.append(Interval(first, last, tuple(members)))
    return tuple(rows)


def alive(cause: Cause, day: int) -> bool:
    """Whether a cause still matters from `day` on, so that a part of the boxes takes it along."""
    return cause.last is None or cause.last >= day or cause.until is None
