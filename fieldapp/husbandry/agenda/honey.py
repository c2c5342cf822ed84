"""Honey that is open again or to be held, periods to be asked for, dead colonies."""

from __future__ import annotations

from collections.abc import Iterator

from fieldapp.husbandry.agenda.items import item
from fieldapp.husbandry.answers import Item, Reason
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.state import HiveState
from fieldapp.words import count, say

#: Honey that is open again is said for so many days.
OPEN_SAID = 7
#: Supers that came off at most so many days before closed days came off for them.
SUPERS_OFF_BEFORE = 60
#: Honey to hold is said for so many days after it was drawn.
HOLD_SAID = 730


def held(state: HiveState, day: int) -> Iterator[Item]:
    """Lots of honey to hold."""
    for drawn in state.drawn:
        if drawn.held and day <= drawn.day + HOLD_SAID:
            what = say(
                "Hold lot {lot}: it was drawn on closed days or from an exposed super",
                lot=drawn.lot,
            )
            said = Reason(
                say("drawn on {day}", day=as_date(drawn.day)), (drawn.record, *drawn.held)
            )
            yield item(state, "hold", "due", (drawn.day, None, None), what, [said])


def open_again(state: HiveState, day: int) -> Iterator[Item]:
    """The first days after closed ones, where somebody waits for them.

    Supers may go back where they came off for the closed days. Honey of supers that stayed on
    may be taken, unless one of them was exposed.
    """
    begun = [row for row in state.closed if row.first <= day]
    if not begun or begun[-1].last is None:
        return
    row, first = begun[-1], begun[-1].last + 1
    if not first <= day < first + OPEN_SAID:
        return
    on = [each for each in state.supers if each.hive == state.hive]
    waited = any(each.since is not None and each.since < first for each in on)
    if waited and not any(each.exposed for each in on):
        task, what = "honey_cleared", say("Honey may be taken from {day}", day=as_date(first))
    elif (
        not on
        and state.supers_off_on is not None
        and state.supers_off_on >= row.first - SUPERS_OFF_BEFORE
    ):
        task, what = "supers_back", say("Honey and supers from {day}", day=as_date(first))
    else:
        return
    said = Reason(
        say("closed to {last}", last=as_date(first - 1)),
        tuple(state.causes[place].record for place in row.causes),
    )
    yield item(state, task, "due", (first, first, None), what, [said])


def to_empty(state: HiveState, day: int) -> Iterator[Item]:
    """Exposed supers on a hive whose honey is open again: nothing else tells them from others."""
    if any(row.first <= day and (row.last is None or day <= row.last) for row in state.closed):
        return
    reasons = []
    for each in state.supers:
        if each.hive == state.hive and each.exposed:
            mark = each.mark or say("without mark")
            known = say("super {mark} was on during a treatment", mark=mark)
            if not each.certain:
                known = say("super {mark}: exposed or not is not known", mark=mark)
            reasons.append(Reason(known, each.records))
    if reasons:
        what = say("Exposed supers are on: never for people until emptied")
        yield item(state, "to_empty", "due", (None, None, None), what, reasons)


def asked(state: HiveState, _: int) -> Iterator[Item]:
    """Withdrawal periods that nobody knows."""
    for question in state.questions:
        if question.what == "period":
            terms = next(
                (t for t in state.terms.values() if t.treatment == question.treatment), None
            )
            name = terms.name if terms else question.treatment
            if terms is not None and not terms.published:
                what = say(
                    "{name}: withdrawal period not known. Ask the authority or a veterinarian",
                    name=name,
                )
            else:
                what = say(
                    "{name}: withdrawal period not known. Enter the line of the label in hand",
                    name=name,
                )
            reasons = [
                Reason(say("honey is closed until it is known who says what"), question.records)
            ]
            if terms is not None and terms.period_shown is not None and terms.period is None:
                shown = terms.period_shown
                reasons.append(_shown(shown.days, shown.source, shown.standing))
            yield item(
                state, "period", "ask", (None, None, None), what, reasons, question.treatment
            )


def _shown(days: int | None, source: str, standing: str) -> Reason:
    if days is None:
        return Reason(
            say("a figure is told, and is no ground: until next season's supers"),
            (),
            source,
            standing,
        )
    return Reason(
        count(
            "a figure is told, and is no ground: 1 day",
            "a figure is told, and is no ground: {n} days",
            days,
        ),
        (),
        source,
        standing,
    )


def dead(state: HiveState, day: int) -> Iterator[Item]:
    """What a dead colony asks for."""
    if state.dead is not None and state.dead <= day:
        said = Reason(say("dead on {day}", day=as_date(state.dead)), (state.dead_record,))
        yield item(
            state,
            "dead",
            "due",
            (state.dead, state.dead, None),
            say("Close the entrance; find the cause before any comb is used again"),
            [said],
        )
