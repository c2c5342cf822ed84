"""Pieces in a hive's boxes: in, out, lost, found, and how the stay is judged by brood.

An exposure is open until in = out + lost. A number that nobody gave is not known and never
lets an exposure end by count.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Exposure, Flag, Look
from fieldapp.husbandry.terms import Stay, Terms

NO_BROOD, BROOD, NOT_KNOWN = "no or hardly any brood", "brood", "not known"
_SEEN = {"none": NO_BROOD, "hardly any": NO_BROOD, "yes": BROOD}
#: A look counts for pieces that go in up to so many days after it.
LOOK_BEFORE = 7


def put_in(record: str, terms: Terms, key: Key, count: int | None) -> Exposure:
    """Return the exposure that begins with `count` pieces (None: nobody said how many)."""
    return Exposure(record, terms.treatment, terms.id, key[0], key, count, remaining=count or 0)


def more_in(exposure: Exposure, record: str, count: int | None) -> Exposure:
    """Return the exposure with the pieces of a second record of the same application."""
    into = None if count is None or exposure.into is None else exposure.into + count
    return exposure._replace(
        into=into,
        remaining=exposure.remaining + (count or 0),
        also=(*exposure.also, record),
    )


def take_out(
    exposures: Sequence[Exposure], count: int, record: str, key: Key, lost: bool = False
) -> list[Exposure]:
    """Return the open exposures, oldest first, after `count` pieces came out or are lost.

    More out than in ends the last of them and is flagged.
    """
    changed: list[Exposure] = []
    left = count
    for place, exposure in enumerate(exposures):
        final = place == len(exposures) - 1
        if exposure.into is None:
            changed.append(_less(exposure, left, record, key, lost, ends=False))
            left = 0
        else:
            taken = min(left, exposure.remaining)
            over = left - taken if final else 0
            if taken + over == 0:
                continue
            ends = taken == exposure.remaining
            after = _less(exposure, taken + over, record, key, lost, ends)
            if over:
                after = after._replace(
                    flags=(*after.flags, Flag("more out than in", over, record=record))
                )
            changed.append(after)
            left -= taken + over
        if left == 0:
            break
    return changed


def _less(
    exposure: Exposure, count: int, record: str, key: Key, lost: bool, ends: bool
) -> Exposure:
    remaining = max(0, exposure.remaining - count)
    return exposure._replace(
        out=exposure.out + (0 if lost else count),
        lost=exposure.lost + (count if lost else 0),
        remaining=remaining,
        not_found=min(exposure.not_found, remaining),
        last_out=key[0] if ends else None,
        last_out_key=key if ends else None,
        ended_by=("lost" if lost else "out") if ends else "",
        records=(*exposure.records, record),
    )


def not_found(exposure: Exposure, count: int, record: str) -> Exposure:
    """Return the exposure with pieces looked for in vain: it stays open."""
    missing = exposure.not_found + count
    if exposure.into is not None:
        missing = min(exposure.remaining, missing)
    return exposure._replace(not_found=missing, records=(*exposure.records, record))


def found(exposure: Exposure, count: int, record: str) -> Exposure:
    """Return the exposure after pieces were found in the hive: open again, whatever the count."""
    if exposure.open:
        back = min(count, exposure.lost) if exposure.into is not None else 0
        return exposure._replace(
            lost=exposure.lost - back,
            remaining=exposure.remaining + back,
            not_found=max(0, exposure.not_found - count),
            records=(*exposure.records, record),
        )
    return exposure._replace(
        remaining=count,
        last_out=None,
        last_out_key=None,
        ended_by="",
        records=(*exposure.records, record),
    )


def end_here(exposure: Exposure, key: Key, why: str) -> Exposure:
    """Return the exposure ended without a piece taken out: its pieces are in other boxes now."""
    return exposure._replace(remaining=0, last_out=key[0], last_out_key=key, ended_by=why)


def add_up(mine: Exposure, theirs: Exposure) -> Exposure:
    """Return one exposure of two in boxes that were joined: pieces add up, the earlier first in."""
    first = mine if mine.key <= theirs.key else theirs
    into = None if mine.into is None or theirs.into is None else mine.into + theirs.into
    return mine._replace(
        first=first.first,
        key=first.key,
        into=into,
        out=mine.out + theirs.out,
        lost=mine.lost + theirs.lost,
        remaining=mine.remaining + theirs.remaining,
        not_found=mine.not_found + theirs.not_found,
        flags=mine.flags + theirs.flags,
        records=mine.records + theirs.records,
        also=(*mine.also, theirs.id, *theirs.also),
    )


class Stays(NamedTuple):
    """How long an exposure's pieces stay, as far as it is known on the day asked.

    `condition` is empty where the label has one stay for all, else ``no or hardly any brood``,
    ``brood`` or ``not known``. `least` and `most` are days of the window (ordinals), None where
    not known. `decides_on` is the first condition's day, where stays depend on brood, and
    `outcomes` are the windows by condition.
    """

    condition: str
    least: int | None
    most: int | None
    decides_on: int | None
    look: Look | None
    outcomes: tuple[tuple[str, int | None, int | None], ...] = ()


def stays(exposure: Exposure, terms: Terms, looks: Sequence[Look], asked: int) -> Stays:
    """Return the removal window of an exposure on the day `asked`.

    `looks` are in order. The latest look from 7 days before the first piece in up to the day
    asked decides, until the first condition's day; from then on only one dated on or after it.
    """
    if not exposure.open and exposure.last_out is not None:
        asked = min(asked, exposure.last_out)
    first = exposure.first
    conditional = [stay for stay in terms.stay if stay.when != "any"]
    if not conditional:
        stay = terms.stay[0] if terms.stay else Stay("any")
        return Stays("", _plus(first, stay.least), _plus(first, stay.most), None, None)
    outcomes = tuple(
        (stay.when, _plus(first, stay.least), _plus(first, stay.most)) for stay in conditional
    )
    leasts = [least if least is not None else most for _, least, most in outcomes]
    known = [day for day in leasts if day is not None]
    decides_on = min(known) if known else None
    since = first - LOOK_BEFORE
    if decides_on is not None and asked >= decides_on:
        since = decides_on
    look = next(
        (look for look in reversed(looks) if since <= look.day <= asked and look.brood in _SEEN),
        None,
    )
    if look is not None:
        condition = _SEEN[look.brood]
        for when, least, most in outcomes:
            if when == condition:
                return Stays(condition, least, most, decides_on, look, outcomes)
    mosts = [most for _, _, most in outcomes]
    latest = None if None in mosts else max(most for most in mosts if most is not None)
    return Stays(NOT_KNOWN, decides_on, latest, decides_on, look, outcomes)


def stayed(exposure: Exposure, window: Stays) -> str:
    """Return how an exposure's stay is judged.

    ``open``, ``long enough``, ``taken out early`` or ``stay not known``.
    """
    last = exposure.last_out
    if last is None:
        return "open"
    leasts = [window.least]
    if window.condition == NOT_KNOWN:
        leasts = [least for _, least, _ in window.outcomes]
    known = [least for least in leasts if least is not None]
    if known and len(known) == len(leasts):
        if last >= max(known):
            return "long enough"
        if last < min(known):
            return "taken out early"
    return "stay not known"


def _plus(day: int, days: int | None) -> int | None:
    return None if days is None else day + days
