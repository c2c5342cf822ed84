"""Pieces to be taken out, looked for and counted."""

from __future__ import annotations

from collections.abc import Iterator

from fieldapp.husbandry.agenda.items import item, name_of, sourced, timing_of
from fieldapp.husbandry.answers import Item, Reason
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.progress import window_of
from fieldapp.husbandry.state import Exposure, HiveState
from fieldapp.husbandry.staying import BROOD, NO_BROOD, Stays
from fieldapp.husbandry.terms import Terms
from fieldapp.words import count, say


def pieces(state: HiveState, day: int) -> Iterator[Item]:
    """Pieces that are in: out by when, a look at brood before, and what is not known of them."""
    for exposure in state.exposures:
        if not exposure.open:
            continue
        window = window_of(exposure, state, day)
        yield from _removal(state, exposure, window, day)
        yield from _pieces_asked(state, exposure)


def _removal(
    state: HiveState, exposure: Exposure, window: Stays | None, day: int
) -> Iterator[Item]:
    terms = state.terms.get(exposure.terms)
    name = name_of(state, exposure.terms, exposure.treatment)
    since = as_date(exposure.first)
    said = sourced(terms, "stay", say("pieces in since {day}", day=since), (exposure.id,))
    what = say("{name}: pieces out", name=name)
    treatment = exposure.treatment
    if window is None or (window.least is None and window.most is None):
        asked = say(
            "{name}: pieces in since {day}, stay not known: look on the label", name=name, day=since
        )
        yield item(state, "remove", "ask", (None, None, None), asked, [said], treatment)
        return
    days = (window.least, window.least, window.most)
    looked: tuple[Reason, ...] = ()
    if window.look is not None:
        seen = say(
            "sealed brood on {day}: {brood}",
            day=as_date(window.look.day),
            brood=_BROOD[window.look.brood],
        )
        looked = (Reason(seen, (window.look.key[3],)),)
    if window.condition != "not known":
        yield item(
            state,
            "remove",
            timing_of(window.least, window.most, day),
            days,
            what,
            [said, *looked],
            treatment,
        )
    elif window.most is not None and day > window.most:
        yield item(state, "remove", "late", days, what, [said], treatment)
    decides = window.decides_on
    if decides is not None and (window.look is None or window.look.day < decides):
        timing = timing_of(decides, window.most if window.condition == "not known" else None, day)
        yield item(
            state,
            "look_brood",
            timing,
            (decides, decides, window.most),
            say("{name}: look: sealed brood?", name=name),
            [said, *_outcomes(window, terms, (exposure.id,))],
            treatment,
        )


_BROOD = {"none": say("none"), "hardly any": say("hardly any"), "yes": say("yes")}


def _outcomes(window: Stays, terms: Terms | None, records: tuple[str, ...]) -> Iterator[Reason]:
    """Return both outcomes of a look at sealed brood."""
    for when, _, most in window.outcomes:
        if most is None:
            continue
        if when == NO_BROOD:
            said = say("no or hardly any sealed brood: out by {day}", day=as_date(most))
            yield sourced(terms, "stay", said, records)
        elif when == BROOD:
            said = say("sealed brood: out by {day}", day=as_date(most))
            yield sourced(terms, "stay", said, records)


def _pieces_asked(state: HiveState, exposure: Exposure) -> Iterator[Item]:
    name = name_of(state, exposure.terms, exposure.treatment)
    none = (None, None, None)
    records = (exposure.id, *exposure.records)
    if exposure.into is None:
        what = say("{name}: how many pieces went in?", name=name)
        reason = Reason(say("a number that nobody gave is not known"), records)
        yield item(state, "pieces", "ask", none, what, [reason], exposure.treatment)
    if exposure.not_found:
        what = count(
            "{name}: 1 piece not found: search every box frame by frame",
            "{name}: {n} pieces not found: search every box frame by frame",
            exposure.not_found,
            name=name,
        )
        reason = Reason(say("pieces in until seen outside, or every box was searched"), records)
        yield item(state, "pieces", "ask", none, what, [reason], exposure.treatment)
    if exposure.unsure:
        what = say("{name}: how many pieces went along in the split?", name=name)
        reason = Reason(say("until it is answered they count as in, in both hives"), records)
        yield item(state, "pieces", "ask", none, what, [reason], exposure.treatment)
    terms = state.terms.get(exposure.terms)
    label = _label_pieces(terms, state.boxes)
    if exposure.also and label is not None and exposure.remaining > label:
        over = exposure.remaining - label
        what = count(
            "{name}: {have} in, label {label}: take 1 out",
            "{name}: {have} in, label {label}: take {n} out",
            over,
            name=name,
            have=exposure.remaining,
            label=label,
        )
        reason = sourced(terms, "dose", say("pieces of two hives are in one"), records)
        yield item(state, "take_out", "due", none, what, [reason], exposure.treatment)


def _label_pieces(terms: Terms | None, boxes: int | None) -> int | None:
    if terms is None or terms.label_pieces is None:
        return None
    number, per = terms.label_pieces
    if per == "colony":
        return number
    return number * boxes if per in ("brood chamber", "box") and boxes is not None else None
