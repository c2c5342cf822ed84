"""Pieces in a hive's boxes: in, out, lost, found.

An exposure is open until in = out + lost. A number that nobody gave is not known and never
lets an exposure end by count.
"""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Exposure, Flag
from fieldapp.husbandry.terms import Terms

#: Which side of a split pieces are that are in one hive again.
TOGETHER = "together"
Sides = tuple[tuple[str, str], ...]


def put_in(record: str, terms: Terms, key: Key, count: int | None) -> Exposure:
    """Return the exposure that begins with `count` pieces (None: nobody said how many)."""
    return Exposure(
        record, terms.treatment, terms.id, key[0], key, key, count, remaining=count or 0
    )


def put_back(record: str, terms: Terms, key: Key) -> Exposure:
    """Return the exposure of pieces of which nobody recorded that they went in, none in by now."""
    return Exposure(
        record, terms.treatment, terms.id, key[0], key, key, 0, last_out=key[0], last_out_key=key
    )


def take_out(
    exposures: Sequence[Exposure], count: int, record: str, key: Key, lost: bool = False
) -> list[Exposure]:
    """Return the exposures that changed after `count` pieces came out or are lost.

    Open ones first, oldest first. More out than in ends the last of them and is flagged; with
    none open the latest was in until now.
    """
    changed: list[Exposure] = []
    left = count
    opened = [each for each in exposures if each.open] or list(exposures[-1:])
    for place, exposure in enumerate(opened):
        if exposure.into is None and exposure.open:
            changed.append(_less(exposure, left, record, key, lost, ends=False))
            break
        final = place == len(opened) - 1
        taken = left if final else min(left, exposure.remaining)
        if taken:
            over = max(0, taken - exposure.remaining)
            after = _less(exposure, taken, record, key, lost, taken >= exposure.remaining)
            if over:
                flag = Flag("more out than in", over, record=record)
                after = after._replace(flags=(*after.flags, flag))
            changed.append(after)
            left -= taken
    return changed


def _less(
    exposure: Exposure, count: int, record: str, key: Key, lost: bool, ends: bool
) -> Exposure:
    remaining = max(0, exposure.remaining - count)
    return exposure._replace(
        out=exposure.out + (0 if lost else count),
        lost=exposure.lost + (count if lost else 0),
        remaining=remaining,
        not_found=(
            exposure.not_found
            if exposure.into is None and not ends
            else min(exposure.not_found, remaining)
        ),
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


def there(exposures: Sequence[Exposure], count: int, record: str, found: bool) -> list[Exposure]:
    """Return the exposures that changed after `count` pieces were found or moved in the hive.

    What is found was first of all among the lost, of the latest exposure that lost any. So many
    as are said to be there are there, whatever the count: where none should be, the latest
    exposure is open again.
    """
    now = {each.id: each for each in exposures}
    if found:
        for each in exposures:
            missing = max(0, each.not_found - count)
            now[each.id] = each._replace(not_found=missing)
        known = [e for e in exposures if e.lost and not (e.open and e.into is None)]
        for lost in known[-1:]:
            back = min(count, lost.lost)
            again = _open_again(now[lost.id], back)
            again = again._replace(lost=again.lost - back)
            if again.into is None:
                again = again._replace(into=again.out + again.lost + again.remaining)
            now[lost.id] = again
    if not any(each.open and each.into is None for each in now.values()):
        inside = sum(each.remaining for each in now.values())
        if count > inside:
            latest = ([e for e in now.values() if e.open] or list(now.values()))[-1]
            now[latest.id] = _comes_in(latest, count - inside)
    return [
        each._replace(records=(*each.records, record))
        for before, each in zip(exposures, now.values(), strict=True)
        if each != before or each is exposures[-1]
    ]


def replace(exposure: Exposure, count: int, record: str, key: Key) -> Exposure:
    """Return the exposure after pieces were replaced: out and in at once."""
    (out,) = take_out([exposure], count, record, key)
    unknown = exposure.open and exposure.into is None
    return out if unknown else _comes_in(out, count)


def _comes_in(exposure: Exposure, count: int) -> Exposure:
    return _open_again(exposure, count)._replace(into=(exposure.into or 0) + count)


def _open_again(exposure: Exposure, count: int) -> Exposure:
    return exposure._replace(
        remaining=exposure.remaining + count, last_out=None, last_out_key=None, ended_by=""
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
        also=tuple(name for name in (*mine.also, theirs.id, *theirs.also) if name != mine.id),
        unsure=_asked(mine.unsure, theirs.unsure),
    )


def together(mine: Exposure, theirs: Exposure) -> Exposure:
    """Return one exposure of two shares; where nobody said how they were parted, the larger."""
    sides = {split: side for split, side in mine.unsure if side != TOGETHER}
    both = {s for s, side in theirs.unsure if sides.get(s, side) != side != TOGETHER}
    if not both:
        return add_up(mine, theirs)
    more = max(mine, theirs, key=lambda each: (each.into is None, each.remaining))
    apart = tuple(pair for pair in more.unsure if pair[0] not in both)
    return more._replace(unsure=_asked(apart, (*mine.unsure, *theirs.unsure)))


def _asked(apart: Sides, others: Sides) -> Sides:
    """Return the sides that still matter, and every other split as one that is asked about."""
    joined = sorted({split for split, _ in others} - {split for split, _ in apart})
    return apart + tuple((split, TOGETHER) for split in joined)


def without(exposure: Exposure, along: int) -> Exposure:
    """Return the exposure without the pieces that went along."""
    remaining = max(0, exposure.remaining - along)
    return exposure._replace(
        into=max(0, (exposure.into or 0) - along),
        remaining=remaining,
        not_found=min(exposure.not_found, remaining),
    )


def share(exposure: Exposure, count: int) -> Exposure:
    """Return the exposure with so many of its pieces, counted from zero."""
    return exposure._replace(
        into=count, out=0, lost=0, not_found=min(exposure.not_found, count), remaining=count
    )
