"""Pieces: in, moved, out, lost, found, by number; and how long they are to stay."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from oracle_state import Boxes, Exposure, Look, Terms
from oracle_terms import days
from oracle_versions import Fact, Key


def put_in(fact: Fact, hive: str, own: Terms, course_terms: Terms) -> Exposure:
    """Return the exposure that an application begins."""
    day = fact.day
    exposure = Exposure(
        id=fact.id,
        names={fact.id},
        treatment=fact.body["treatment"],
        given_in=hive,
        own=own,
        course_terms=course_terms,
        first=day,
        start=fact.key,
        judged_from=fact.key,
        pieces=False,
    )
    number = fact.body.get("pieces")
    form = own.body["form"] if own.body is not None else None
    if form == "pieces" or number:
        exposure.pieces = True
        exposure.put_in = exposure.present = number
    if not exposure.open:
        exposure.last_out, exposure.end = day, fact.key
    return exposure


def happen(boxes: Boxes, fact: Fact, named: str | None, terms: Terms) -> None:
    """Count what a record of pieces says happened in these boxes."""
    did, count = fact.body["did"], fact.body["count"]
    mine = [e for e in boxes.exposures if e.pieces and e.treatment == fact.body["treatment"]]
    mine.sort(key=lambda e: e.start)
    chosen = [e for e in boxes.exposures if e.pieces and named in e.names]
    # What went on to other boxes, and came back in one with others, is meant as it is now.
    chosen.sort(key=lambda e: 1 if e.id != named else 0 if e.moved_on else 2)
    chosen = chosen[-1:]
    in_vain = did == "lost" and fact.body.get("seen", "not found") == "not found"
    if not chosen and not mine:
        mine = [_nothing_known(boxes, fact, terms)]
        if in_vain:
            _comes_in(mine[0], count)
    if did in ("found", "moved"):
        _is_there(chosen[-1:] or mine, did, count)
    elif did == "replaced":
        exposure = (chosen or [e for e in mine if e.open] or mine[-1:])[0]
        _goes_out(exposure, count, fact, "out")
        _comes_in(exposure, count)
    elif in_vain:
        exposure = (chosen or [e for e in mine if e.open] or mine[-1:])[0]
        exposure.missing += count
        if exposure.present is not None:
            exposure.missing = min(exposure.missing, exposure.present)
    else:
        _spread(chosen[-1:] or mine, count, fact, did)


def _nothing_known(boxes: Boxes, fact: Fact, terms: Terms) -> Exposure:
    """Pieces of which nobody recorded that they went in: they were here on that day at least."""
    exposure = Exposure(
        id=fact.id,
        names={fact.id},
        treatment=fact.body["treatment"],
        given_in=boxes.id,
        own=terms,
        course_terms=terms,
        first=fact.day,
        start=fact.key,
        judged_from=fact.key,
        pieces=True,
        last_out=fact.day,
        end=fact.key,
    )
    boxes.exposures.append(exposure)
    return exposure


def _spread(exposures: list[Exposure], count: int, fact: Fact, did: str) -> None:
    """Take pieces out of the oldest exposure first; what is too many falls to the last."""
    still_in = [e for e in exposures if e.open]
    for exposure in still_in[:-1]:
        if exposure.present is None:
            _goes_out(exposure, count, fact, did)
            return
        taken = min(count, exposure.present)
        _goes_out(exposure, taken, fact, did)
        count -= taken
        if count == 0:
            return
    _goes_out((still_in or exposures)[-1], count, fact, did)


def _goes_out(exposure: Exposure, count: int, fact: Fact, did: str) -> None:
    if did == "lost":
        exposure.lost += count
    else:
        exposure.out += count
    if exposure.present is None:
        return
    if count > exposure.present:
        exposure.flags.add("more out than in")
    exposure.present = max(0, exposure.present - count)
    exposure.missing = min(exposure.missing, exposure.present)
    if exposure.present == 0:
        exposure.last_out, exposure.end, exposure.moved_on = fact.day, fact.key, False


def _comes_in(exposure: Exposure, count: int) -> None:
    if exposure.present is None:
        return
    exposure.put_in = (exposure.put_in or 0) + count
    exposure.present += count
    exposure.last_out = exposure.end = None
    exposure.moved_on = False


def _is_there(exposures: list[Exposure], did: str, count: int) -> None:
    """Pieces found, or moved, are in these boxes, whatever the count said.

    What is found was first of all among the lost, of the latest exposure that lost any; where
    none should be, the exposure is open again. So many as are said to be there are there.
    """
    if did == "found":
        for exposure in exposures:
            exposure.missing = max(0, exposure.missing - count)
        for exposure in reversed(exposures):
            if exposure.lost and exposure.present is not None:
                back = min(count, exposure.lost)
                exposure.lost -= back
                exposure.present += back
                if exposure.put_in is None:
                    exposure.put_in = exposure.out + exposure.lost + exposure.present
                exposure.last_out = exposure.end = None
                break
    if any(exposure.present is None for exposure in exposures):
        return
    there = sum(exposure.present or 0 for exposure in exposures)
    if count > there:
        _comes_in(([e for e in exposures if e.open] or exposures)[-1], count - there)


def end_now(exposure: Exposure, day: date, key: Key) -> None:
    """End an exposure whose pieces have gone with the boxes, or whose bees have left them."""
    if exposure.open:
        exposure.present, exposure.last_out, exposure.end = 0, day, key


def _sure_of(exposure: Exposure) -> tuple[bool, int]:
    return exposure.present is None, exposure.present or 0


def add_up(here: Exposure, there: Exposure) -> None:
    """Pieces of two hives in one: they add up, and the earlier first in decides.

    What is open in both because nobody said how a split parted it is there once.
    """
    both = {
        split
        for split, side in here.sides
        for other, its in there.sides
        if split == other and side != its
    }
    if here.id == there.id and both:
        more = there if _sure_of(there) > _sure_of(here) else here
        here.put_in, here.present, here.missing = more.put_in, more.present, more.missing
        here.out, here.lost, here.flags = more.out, more.lost, set(more.flags)
        here.sides = {pair for pair in more.sides if pair[0] not in both}
        return
    here.names |= there.names
    here.merged.append(there)
    here.first = min(here.first, there.first)
    here.start = min(here.start, there.start)
    here.out += there.out
    here.lost += there.lost
    here.missing += there.missing
    here.flags |= there.flags
    if here.present is None or there.present is None:
        here.put_in = here.present = None
    else:
        here.present += there.present
        here.put_in = (here.put_in or 0) + (there.put_in or 0)


@dataclass(frozen=True)
class Stay:
    """How long pieces are to stay: the window, the condition, and the day to look on.

    `condition` is ``any``, ``no or hardly any brood``, ``brood`` or ``not known``.
    """

    condition: str
    first: date | None
    last: date | None
    look_on: date | None


def stay_of(exposure: Exposure, looks: list[Look], day: date) -> Stay:
    """Return the stay as it is known on `day`."""
    stays: list[dict[str, Any]] = exposure.own.value("stay") or []
    by_condition = {stay["when"]: stay for stay in stays}
    if not stays:
        return Stay("not known", None, None, None)
    if set(by_condition) == {"any"}:
        return _window("any", by_condition["any"], exposure, None)
    leasts = [stay["least"] for stay in stays if "least" in stay]
    first_day = exposure.first + days(min(leasts)) if leasts else None
    since = exposure.first - days(7)
    if first_day is not None and day >= first_day:
        since = first_day
    seen = [look for look in looks if since <= look.day <= day]
    if seen:
        latest = max(seen, key=lambda look: look.key)
        condition = "brood" if latest.brood else "no or hardly any brood"
        stay = by_condition.get(condition, by_condition.get("any", {}))
        return _window(condition, stay, exposure, first_day)
    mosts = [stay["most"] for stay in stays if "most" in stay]
    last = exposure.first + days(max(mosts)) if len(mosts) == len(stays) else None
    return Stay("not known", first_day, last, first_day)


def _window(condition: str, stay: dict[str, Any], exposure: Exposure, look_on: date | None) -> Stay:
    first = exposure.first + days(stay["least"]) if "least" in stay else None
    last = exposure.first + days(stay["most"]) if "most" in stay else None
    return Stay(condition, first, last, look_on)


def judge_stay(exposure: Exposure, looks: list[Look], day: date) -> str | None:
    """Return *taken out early* or *stay not known* for pieces that are out, None if they stayed.

    A look after the last piece is out says nothing about the days that it was in.
    """
    if exposure.open or exposure.last_out is None:
        return None
    stays: list[dict[str, Any]] = exposure.own.value("stay") or []
    out = exposure.last_out
    own = exposure.own_looks
    stay = stay_of(exposure, own[1] if own and own[0] == exposure.end else looks, min(day, out))
    if stay.condition not in ("not known", "any"):
        if stay.first is None:
            return "stay not known"
        return "taken out early" if out < stay.first else None
    if not stays or any("least" not in stay for stay in stays):
        return "stay not known"
    leasts = [exposure.first + days(stay["least"]) for stay in stays]
    if out < min(leasts):
        return "taken out early"
    return None if out >= max(leasts) else "stay not known"
