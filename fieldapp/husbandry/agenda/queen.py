"""What a caged queen asks for: to treat while no brood is sealed, and to let her out again."""

from __future__ import annotations

from collections.abc import Iterator

from fieldapp.husbandry.agenda.items import item, timing_of
from fieldapp.husbandry.answers import Item, Reason
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.state import Event, HiveState
from fieldapp.words import Phrase, say

#: Days from caging the queen until no sealed brood is left, and from release to sealed brood.
BROODLESS_AFTER, SEALED_AFTER_RELEASE = 25, 9
#: The days before new brood is sealed are told for so long after they are over.
_TOLD = 7


def queen(state: HiveState, day: int) -> Iterator[Item]:
    """The broodless days after the queen was caged, and the cage that is forgotten after them."""
    caged, released = _last_caged(state)
    if caged is None:
        return
    first = caged.day + BROODLESS_AFTER
    treated = [given for given in _substances(state) if given >= first]
    if treated:
        if released is None:
            yield _release(state, caged, treated[-1])
        return
    last = released.day + SEALED_AFTER_RELEASE - 1 if released is not None else None
    if last is not None and day > last + _TOLD:
        return
    since = say(
        "queen caged on {day}: no sealed brood {days} days later",
        day=as_date(caged.day),
        days=BROODLESS_AFTER,
    )
    reasons = [_why(since, caged, "UK label (SPC) AN 01519/2014, section 4.4", "read")]
    if released is not None:
        until = say(
            "released on {day}: first newly sealed brood about {days} days later",
            day=as_date(released.day),
            days=SEALED_AFTER_RELEASE,
        )
        reasons.append(_why(until, released, "general pages on bee biology", "reported"))
    yield item(
        state,
        "broodless",
        timing_of(first, last, day),
        (first, first, last),
        say("Treat now: no sealed brood, and before new brood is sealed"),
        reasons,
    )


def _last_caged(state: HiveState) -> tuple[Event | None, Event | None]:
    """Return when the queen that is here was caged and released, each None where she was not."""
    caged = released = None
    for event in state.events:
        if event.what == "caged":
            caged, released = event, None
        elif event.what == "released":
            released = event
        elif event.what in ("removed", "introduced", "died"):
            caged = None
    return caged, released


def _substances(state: HiveState) -> list[int]:
    """Return the days on which the colony was given a substance, in order."""
    given = []
    for course in state.courses:
        terms = state.terms.get(course.terms)
        if terms is None or terms.form != "act":
            given += [dose.day for dose in course.doses]
    return sorted(given)


def _release(state: HiveState, caged: Event, treated: int) -> Item:
    said = say(
        "queen caged on {day}, treated on {treated}",
        day=as_date(caged.day),
        treated=as_date(treated),
    )
    reasons = [_why(said, caged, "", "common practice")]
    what = say("Let the queen out of her cage")
    return item(state, "release", "due", (treated, treated, None), what, reasons)


def _why(said: Phrase, event: Event, source: str, standing: str) -> Reason:
    return Reason(said, (event.key[3],), source, standing)
