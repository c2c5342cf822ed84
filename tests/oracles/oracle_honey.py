"""Closed days of a hive: every cause by itself, then all of them on one calendar."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from oracle_state import Boxes, Exposure, Segment, Terms
from oracle_terms import (
    Period,
    closes_between,
    days,
    is_south,
    next_supers,
    periods_of,
    season_end,
    wants_off,
)
from oracle_versions import Fact, Key


@dataclass(frozen=True)
class Cause:
    """Days that one application, or one stretch of a course, closes; `last` None: no end.

    `judged_from` is the instant before which a harvest and the supers of these boxes have nothing
    to do with it. A super that goes on up to `supers_last` becomes exposed, where `supers` is true,
    and one that is on between two applications of a course, up to `until`.
    """

    first: date
    last: date | None
    judged_from: Key
    supers: bool
    supers_last: date | None
    until: Key | None = None


def causes_of(facts: list[Fact], boxes: Boxes) -> list[Cause]:
    """Return everything that closes these boxes, each with its own days."""
    causes = []
    for exposure in boxes.exposures + boxes.past:
        causes += exposure_causes(facts, boxes.id, exposure)
    for segment in boxes.segments:
        causes += _segment_causes(facts, segment)
    return causes


def exposure_causes(facts: list[Fact], hive: str, exposure: Exposure) -> list[Cause]:
    """Return what closes by an application's own terms and by its course's; both count."""
    causes = []
    for terms, given_in in exposure.all_terms:
        known = periods_of(facts, terms, given_in)
        if known is None:
            causes.append(_exposure_cause(facts, hive, exposure, terms, None))
            continue
        for period in known:
            if not period.zero or wants_off(terms):
                causes.append(_exposure_cause(facts, hive, exposure, terms, period))
    return causes


def _exposure_cause(
    facts: list[Fact], hive: str, exposure: Exposure, terms: Terms, period: Period | None
) -> Cause:
    end = None if exposure.open else exposure.last_out
    last = supers_last = None
    if end is not None and period is not None:
        if period.days is not None:
            last = supers_last = end + days(period.days)
        else:
            south = is_south(facts, hive, end)
            supers_last = season_end(end, south)
            on = next_supers(facts, hive, exposure, south)
            last = None if on is None else on - days(1)
            if last is not None:
                supers_last = min(supers_last, last)
        if period.honey_only:
            supers_last = end
    return Cause(
        exposure.first,
        last,
        exposure.judged_from,
        wants_off(terms),
        supers_last,
    )


def _segment_causes(facts: list[Fact], segment: Segment) -> list[Cause]:
    """Return the days from one application of a course to the next, or to the course's end."""
    course, given = segment.course, segment.given
    both = (given.terms, course.terms)
    closes = [t for t in both if closes_between(t, periods_of(facts, t, segment.given_in))]
    if not closes or course.gap is None:
        return []
    later = [g for g in course.given if g.key > given.key]
    last: date | None
    until: Key | None = None
    if later:
        last, until = later[0].day, later[0].key
    elif course.below:
        most = course.gap.get("most")
        ends = [day for day in (course.stopped,) if day is not None]
        if most is not None:
            ends.append(course.last + days(2 * most))
        elif course.followed is not None:
            ends.append(course.followed)
        last = min(ends) if ends else None
    else:
        return []
    if segment.cap is not None:
        last = segment.cap if last is None else min(last, segment.cap)
        until = None
    off = any(wants_off(terms) for terms in closes)
    return [Cause(given.day, last, segment.judged_from, off, last, until)]


def calendar(spans: Iterable[tuple[date, date | None]]) -> tuple[set[date], date | None]:
    """Return the days with an end, one by one, and the day from which there is no end."""
    marked: set[date] = set()
    endless: date | None = None
    for first, last in spans:
        if last is None:
            endless = first if endless is None else min(endless, first)
            continue
        day = first
        while day <= last:
            marked.add(day)
            day += timedelta(1)
    return marked, endless


def intervals(spans: Iterable[tuple[date, date | None]]) -> tuple[tuple[date, date | None], ...]:
    """Return the closed days as intervals, joined where they overlap or touch."""
    marked, endless = calendar(spans)
    joined: list[tuple[date, date | None]] = []
    for day in sorted(marked):
        if endless is not None and day >= endless:
            break
        if joined and joined[-1][1] == day - timedelta(1):
            joined[-1] = (joined[-1][0], day)
        else:
            joined.append((day, day))
    if endless is not None:
        if joined and joined[-1][1] == endless - timedelta(1):
            joined[-1] = (joined[-1][0], None)
        else:
            joined.append((endless, None))
    return tuple(joined)


def first_open(spans: Iterable[tuple[date, date | None]], day: date) -> date | None:
    """Return the first day from `day` on that is not closed; None where that is not known."""
    marked, endless = calendar(spans)
    while day in marked and (endless is None or day < endless):
        day += timedelta(1)
    return None if endless is not None and day >= endless else day
