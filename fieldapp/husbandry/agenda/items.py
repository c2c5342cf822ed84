"""One item of a hive's agenda, and the order in which items stand."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from fieldapp.husbandry.answers import Item, Reason, Timing
from fieldapp.husbandry.days import as_date_or_none
from fieldapp.husbandry.state import HiveState
from fieldapp.husbandry.terms import Terms
from fieldapp.words import Phrase

_RANK: dict[Timing, int] = {"late": 0, "ask": 1, "due": 2, "waiting": 3}


def order(item: Item) -> tuple[int, int, date, str]:
    """Return the place of an item: late first, among them pieces, then the nearer day."""
    when = item.last or item.target or item.first or date.max
    return (_RANK[item.timing], 0 if item.task == "remove" else 1, when, item.task)


def item(
    state: HiveState,
    task: str,
    timing: Timing,
    days: tuple[int | None, int | None, int | None],
    what: Phrase,
    reasons: Iterable[Reason] = (),
    treatment: str | None = None,
) -> Item:
    """Return an item of a hive; `days` are first, target and last, None where not known."""
    first, target, last = map(as_date_or_none, days)
    return Item(
        task,
        state.hive,
        state.apiary,
        treatment,
        timing,
        first,
        target,
        last,
        what,
        tuple(reasons),
    )


def timing_of(first: int | None, last: int | None, day: int) -> Timing:
    """Return how a window stands on a day; without an end it is never late."""
    if first is not None and day < first:
        return "waiting"
    return "late" if last is not None and day > last else "due"


def name_of(state: HiveState, terms: str, treatment: str) -> str:
    """Return a treatment's name, its identity where its terms have not arrived."""
    known = state.terms.get(terms)
    return known.name if known else treatment


def sourced(terms: Terms | None, value: str, phrase: Phrase, records: tuple[str, ...]) -> Reason:
    """Return a reason with the source of a value of the terms."""
    source = terms.source(value) if terms else None
    text, standing = (source.text, source.standing) if source else ("", "")
    return Reason(phrase, records, text, standing)
