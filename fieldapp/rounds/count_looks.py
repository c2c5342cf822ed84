"""Counts as looks at a course: the hive's own, those of hives untreated, mites that fell in it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from fieldapp.husbandry.counting import Drop
from fieldapp.husbandry.outcome import Look
from fieldapp.husbandry.state import HiveState
from fieldapp.journal import happened
from fieldapp.rounds.count_ahead import value_of
from fieldapp.rounds.count_survey import TOGETHER
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.notebook import Notebook


def looks_of(counts: CountsTold) -> list[Look]:
    """Return the counts of a hive, oldest first; the cautious reading of each."""
    looks = []
    for entry in reversed(counts.entries):
        readings = counts.readings(entry.holds.body)
        if readings:
            day = happened.civil(entry.holds.happened)
            looks.append(Look(day, max(readings, key=value_of)))
    return looks


def untreated(
    notebook: Notebook, counts: CountsTold, before: Look | None, after: Look
) -> list[tuple[Look | None, Look]]:
    """Return the looks of the apiary's hives that stayed untreated, near `before` and `after`.

    They were counted the same way within `TOGETHER` days of them, and got no application from
    `TOGETHER` days before the first of the two looks on. Where `before` is None so is theirs.
    """
    first = (before.day if before is not None else after.day) - timedelta(days=TOGETHER)
    found: list[tuple[Look | None, Look]] = []
    for stop in notebook.book.walk(counts.apiary, counts.day):
        state = notebook.book.hive(stop.hive)
        if stop.dead or stop.hive == counts.hive or not _counted(state, after):
            continue
        if _treated(state, first, after.day):
            continue
        looks = looks_of(CountsTold(notebook, stop.hive))
        one, two = _near(looks, before), _near(looks, after)
        if two is None or (before is not None and one is None):
            continue
        if not _treated(state, first, two.day):
            found.append((one, two))
    return found


def fallen(counts: CountsTold, first: date, last: date) -> int | None:
    """Return the mites that lay on boards read in these days, both included; None without one."""
    drops = [
        each.sample
        for each in looks_of(counts)
        if first <= each.day <= last and isinstance(each.sample, Drop)
    ]
    if not drops:
        return None
    return round(sum(each.mites / each.part for each in drops))


def _counted(state: HiveState, to: Look) -> bool:
    """Whether such a count near `to` is in the hive's state, before its history is read."""
    return any(
        event.what == "count"
        and event.ref == to.way
        and abs(event.day - to.day.toordinal()) <= TOGETHER
        for event in state.events
    )


def _near(looks: Sequence[Look], to: Look | None) -> Look | None:
    if to is None:
        return None
    near = [
        each for each in looks if each.way == to.way and abs((each.day - to.day).days) <= TOGETHER
    ]
    return min(near, key=lambda each: abs((each.day - to.day).days), default=None)


def _treated(state: HiveState, first: date, last: date) -> bool:
    start, end = first.toordinal(), last.toordinal()
    given = any(start <= dose.day <= end for course in state.courses for dose in course.doses)
    return given or any(
        each.first <= end and (each.open or (each.last_out or 0) >= start)
        for each in state.exposures
    )
