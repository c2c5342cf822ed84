"""May honey be taken from a hive, and may supers go on: dates with their reasons."""

from __future__ import annotations

from datetime import date
from typing import Literal

from fieldapp.husbandry.answers import Closed, Exposed, Honey, Reason
from fieldapp.husbandry.days import as_date, as_date_or_none
from fieldapp.husbandry.state import Cause, HiveState, Interval, SuperState
from fieldapp.words import Phrase, say


def honey(state: HiveState, day: date) -> Honey:
    """Return what stands against taking honey from a hive on `day`, and from when it may be."""
    asked = day.toordinal()
    closed = tuple(_closed(state, interval) for interval in state.closed)
    exposed = tuple(_exposed(each) for each in state.supers if each.exposed)
    now = next((row for row in state.closed if _holds(row, asked)), None)
    supers_from = first_day_for_supers(state, asked)
    if now is None:
        said = say("Honey may be taken from {day}.", day=day)
        return Honey("open", day, as_date_or_none(supers_from), closed, exposed, (Reason(said),))
    reasons = tuple(reason_of(state, state.causes[place]) for place in now.causes)
    if now.last is not None:
        first = as_date(now.last + 1)
        if supers_from == now.last + 1:
            said = say("Honey and supers from {day}.", day=first)
        else:
            said = say("Honey may be taken from {day}.", day=first)
        return Honey(
            "closed",
            first,
            as_date_or_none(supers_from),
            closed,
            exposed,
            (Reason(said), *reasons),
        )
    unknown = any(state.causes[place].why in ("period", "answer") for place in now.causes)
    what: Literal["not known", "closed"] = "not known" if unknown else "closed"
    if unknown:
        said = say("Not known: ask for the label line, a veterinarian or the authority.")
    else:
        said = say("Not yet: its end is not known.")
    return Honey(
        what, None, as_date_or_none(supers_from), closed, exposed, (Reason(said), *reasons)
    )


def _holds(row: Interval, day: int) -> bool:
    return row.first <= day and (row.last is None or day <= row.last)


def first_day_for_supers(state: HiveState, asked: int) -> int | None:
    """Return the first day from `asked` on, on which a super that goes on is not exposed.

    None where it is not known.
    """
    day = asked
    spans = [
        (cause.first, cause.super_last)
        for cause in state.causes
        if cause.wants_off and (cause.super_last is None or cause.super_last >= cause.first)
    ]
    moved = True
    while moved:
        moved = False
        for first, last in spans:
            if first <= day and (last is None or day <= last):
                if last is None:
                    return None
                day, moved = last + 1, True
    return day


def _closed(state: HiveState, row: Interval) -> Closed:
    reasons = tuple(reason_of(state, state.causes[place]) for place in row.causes)
    return Closed(as_date(row.first), as_date_or_none(row.last), reasons)


def reason_of(state: HiveState, cause: Cause) -> Reason:
    """Return why a cause closes the hive, with the record and the source of its period."""
    terms = state.terms.get(cause.terms)
    name = terms.name if terms else cause.treatment
    given = as_date(cause.first)
    records = tuple(dict.fromkeys(r for r in (cause.record, cause.period) if r))
    source = terms.source("supers" if cause.of_course else "period") if terms else None
    text, standing = (source.text, source.standing) if source else ("", "")
    if cause.period and terms is not None and cause.period != terms.id:
        text, standing = _entered(state, cause)
    return Reason(_because(cause, name, given, terms is not None), records, text, standing)


def _entered(state: HiveState, cause: Cause) -> tuple[str, str]:
    entry = state.entered.get(cause.period)
    return (entry.source, entry.standing) if entry else ("", "")


def _because(  # noqa: PLR0911 — one return a cause
    cause: Cause, name: str, given: date, terms_known: bool
) -> Phrase:
    if not terms_known and cause.why == "period":
        return say("The terms of {name}, given on {day}, have not arrived.", name=name, day=given)
    if cause.why == "pieces in":
        return say("Pieces in: {name} since {day}.", name=name, day=given)
    if cause.why == "period":
        return say(
            "{name}, given on {day}: no published withdrawal period is known.",
            name=name,
            day=given,
        )
    if cause.why == "season":
        return say(
            "{name}, given on {day}: until next season's supers go on.", name=name, day=given
        )
    if cause.why == "answer":
        return say("{name}, given on {day}: closed until it is answered.", name=name, day=given)
    last = as_date_or_none(cause.last) or given
    if cause.of_course:
        return say(
            "The course of {name} from {day}: closed to {last}.", name=name, day=given, last=last
        )
    return say("{name}, given on {day}: closed to {last}.", name=name, day=given, last=last)


def _exposed(each: SuperState) -> Exposed:
    if each.mark:
        what = say("Super {mark} was on during a treatment.", mark=each.mark)
    else:
        what = say("The supers of the hive were on during a treatment.")
    if not each.certain:
        what = say("Exposed: not known. Nobody could say whether supers were on.")
    return Exposed(each.mark, each.of_hive, each.certain, (Reason(what, each.records),))
