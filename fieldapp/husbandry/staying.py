"""How long pieces are to stay, by the looks at brood, and how it is judged once they are out."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from operator import itemgetter
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Exposure, Look
from fieldapp.husbandry.terms import Stay, Terms

NO_BROOD, BROOD, NOT_KNOWN = "no or hardly any brood", "brood", "not known"
_SEEN = {"none": NO_BROOD, "hardly any": NO_BROOD, "yes": BROOD}
#: A look counts for pieces that go in up to so many days after it.
LOOK_BEFORE = 7


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


def looks_between(looks: Sequence[Look], since: Key, until: Key | None = None) -> Sequence[Look]:
    """Return of looks in order those after a place in the order and before another (None: all)."""
    first = bisect_right(looks, since, key=_key)
    return looks[first : len(looks) if until is None else bisect_left(looks, until, key=_key)]


_key: Callable[[Look], Key] = itemgetter(0)


def looks_that_matter(looks: Sequence[Look], exposures: Iterable[Exposure]) -> tuple[Look, ...]:
    """Return the looks that can decide a stay, and the last one."""
    wanted: set[int] = {len(looks) - 1} if looks else set()
    days = [look.key[0] for look in looks]
    for each in exposures:
        last = each.last_out if each.last_out is not None else 10**9
        first = bisect_left(days, each.first - LOOK_BEFORE)
        wanted.update(range(first, bisect_right(days, last)))
    return tuple(looks[place] for place in sorted(wanted))


def looked_at(exposure: Exposure, looks: Sequence[Look]) -> Exposure:
    """Return an exposure that keeps, if it is over, the looks at these boxes that can judge it.

    Other combs come now, and what is seen of them says nothing of pieces that were out before.
    """
    out = exposure.last_out_key
    if out is None or (exposure.looked is not None and exposure.looked[0] == out):
        return exposure
    return exposure._replace(looked=(out, looks_that_matter(looks, (exposure,))))


def stays(exposure: Exposure, terms: Terms, looks: Sequence[Look], asked: int) -> Stays:
    """Return the removal window of an exposure on the day `asked`.

    `looks` are in order. The latest look from 7 days before the first piece in up to the day
    asked decides, until the first condition's day; from then on only one dated on or after it.
    """
    first, last_out = exposure.held or (exposure.first, exposure.last_out)
    if not exposure.open and last_out is not None:
        asked = min(asked, last_out)
    if exposure.looked is not None and exposure.looked[0] == exposure.last_out_key:
        looks = exposure.looked[1]
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
    if exposure.held is not None and exposure.held[1] is not None:
        last = exposure.held[1]
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
