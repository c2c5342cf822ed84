"""All closed days of a hive: one cause for each application, one for the days of each course.

A hive of many years has many that nothing touches again: each is found once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from fieldapp.husbandry.between import course_causes
from fieldapp.husbandry.closing import Draft, Facts, alive, application_cause, later_day
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Cause, Course, Exposure, Interval


class Memo(NamedTuple):
    """What was found of a hive before under the same facts.

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
        if cause is not None and not _over(draft, cause):
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


def _over(draft: Draft, cause: Cause) -> bool:
    """Whether pieces that came along were all out, and their days over, before that.

    They close nothing here unless one of them is found.
    """
    out = cause.until is not None and cause.until < draft.joined
    return bool(draft.exposure) and cause.inherited and out and not alive(cause, draft.joined[0])


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
            last = later_day(last, ends)
            members.append(place)
        else:
            if members:
                rows.append(Interval(first, last, tuple(members)))
            first, last, members = begins, ends, [place]
    if members:
        rows.append(Interval(first, last, tuple(members)))
    return tuple(rows)
