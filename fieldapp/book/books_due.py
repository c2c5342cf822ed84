"""Joins hives' states and ledger for the lines of the agenda that belong to no single hive."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, timedelta

from fieldapp.book.answers import Entry, Place
from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.days import record_key
from fieldapp.husbandry.ledger import (
    COUNTED,
    COUNTED_WITHIN,
    Apiary,
    Ledger,
    agenda_lines,
    needs,
    treated,
)
from fieldapp.husbandry.state import HiveState
from fieldapp.husbandry.terms import Terms
from fieldapp.journal.record import Record


def lines(
    ledger: Ledger,
    day: date,
    *,
    places: Iterable[Place],
    states: Sequence[HiveState],
    terms: Mapping[str, Terms],
    whole: Callable[[str], HiveState],
    entry: Callable[[str], Entry | None],
) -> list[Line]:
    """Return what the books ask for on `day`.

    `states` need hold no more than the agenda of the day needs; `whole` gives a hive's whole
    state and `entry` a record as it holds, where a law counts mites.
    """
    of_apiary: dict[str, list[str]] = {}
    for state in states:
        if state.apiary is not None and state.lives(day.toordinal()):
            of_apiary.setdefault(state.apiary, []).append(state.hive)
    apiaries = []
    for place in places:
        apiary = Apiary(place.id, place.country, of_apiary.get(place.id, ()))
        if place.country in COUNTED:
            living = [whole(hive) for hive in apiary.hives]
            counts = _counts(living, day, entry)
            apiary = apiary._replace(counts=counts, treated=treated(living))
        apiaries.append(apiary)
    names = {identity: each.name for identity, each in terms.items()}
    return agenda_lines(ledger, day, apiaries=apiaries, needed=needs(states, day), names=names)


def _counts(
    states: Iterable[HiveState], day: date, entry: Callable[[str], Entry | None]
) -> list[Record]:
    first = (day - timedelta(days=COUNTED_WITHIN)).toordinal()
    roots = [
        event.key[3]
        for state in states
        for event in state.events
        if event.what == "count" and first <= event.day <= day.toordinal()
    ]
    found = [entry(root) for root in dict.fromkeys(roots)]
    held = [each.holds for each in found if each is not None and not each.void]
    return sorted(held, key=record_key)
