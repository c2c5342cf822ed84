"""Closed days that one application makes: from its own date, as long as its periods last."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from fieldapp.husbandry.days import Key, season_end
from fieldapp.husbandry.periods import Entry, Sides, holding, next_season
from fieldapp.husbandry.state import Cause, Course, Exposure
from fieldapp.husbandry.terms import Period, Terms, unknown_terms


class Draft(NamedTuple):
    """An application on these boxes, or copied to them at `joined`, before its end is known.

    `opened`: the last closed day, where the supers of a new season had gone on before that;
    `waits`: none had, and it is closed until they do.
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
    waits: bool = False


class Facts(NamedTuple):
    """What closed days depend on beyond a hive's own treatments."""

    terms: Callable[[str, str], Sequence[Terms]]
    entries: Callable[[str], Sequence[Entry]]
    supers_on: Sequence[Key]
    sides: Sides


#: An end of closed days and why it is missing.
End = tuple[int | None, str]


def _all_terms(draft: Draft, courses: Mapping[str, Course], facts: Facts) -> list[Terms]:
    """Return the terms of which an application takes the later end: its own and its course's."""
    terms = open_terms(draft.terms, draft.treatment, facts)
    course = courses.get(draft.course)
    if course is not None and course.terms != draft.terms:
        terms += open_terms(course.terms, draft.treatment, facts)
    return terms


def open_terms(name: str, treatment: str, facts: Facts) -> list[Terms]:
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
                supers = _supers_to(period, end, facts.sides)
                if supers is not None and closed[0] is not None and period.form != "days":
                    supers = min(supers, closed[0])
                super_last = later_day(super_last, supers)
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
    last = next_season(end, facts.supers_on, draft.joined, facts.sides.at(end))
    if draft.opened is not None and draft.opened >= end:
        last = draft.opened
    return (last, "" if last is not None else "season")


def _supers_to(period: Period, end: int | None, where: Sides) -> int | None:
    """Return the last day on which a super that is put on becomes exposed."""
    if end is None:
        return None
    if period.form != "days":
        south = where.at(end)
        sides = (False, True) if south is None else (south,)
        return max(season_end(end, side) for side in sides)
    return end if period.honey_only else end + (period.days or 0)


def _later(one: End, other: End) -> End:
    """Return the later end. Not known outlasts all, then what is not over, then the later day."""
    rank = {"period": 3, "answer": 2, "pieces in": 1, "season": 1, "": 0}
    if one[0] is None or other[0] is None:
        return max(one, other, key=lambda end: (end[0] is None, rank[end[1]]))
    return one if one[0] >= other[0] else other


def later_day(one: int | None, other: int | None) -> int | None:
    """Return the later of two days, None where one of them is not known or not over."""
    return None if one is None or other is None else max(one, other)


def alive(cause: Cause, day: int) -> bool:
    """Whether a cause still matters from `day` on, so that a part of the boxes takes it along."""
    return cause.last is None or cause.last >= day or cause.until is None
