"""What is to be done at one hive, by when and why."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from fieldapp.husbandry.answers import Item, Reason, Timing
from fieldapp.husbandry.days import as_date, as_date_or_none
from fieldapp.husbandry.pieces import BROOD, NO_BROOD, Stays
from fieldapp.husbandry.progress import (
    course_state,
    last_day,
    next_window,
    of_number,
    window_of,
)
from fieldapp.husbandry.progress import timing as by_days
from fieldapp.husbandry.state import Course, Dose, Exposure, HiveState
from fieldapp.husbandry.terms import Terms
from fieldapp.words import Phrase, count, say

#: A look the day after is not asked for any more so many days after the application.
LOOK_AFTER_ENDS = 7
#: A count after a course: not before so many days after its end; asked for so many.
COUNT_AFTER, COUNT_ENDS = 14, 60
#: Days from caging the queen until no sealed brood is left, and from release to sealed brood.
BROODLESS_AFTER, SEALED_AFTER_RELEASE = 25, 9
#: A board is read after so many days at the earliest, the target, the latest (common practice).
BOARD_DAYS = (1, 3, 7)
#: Honey that is open again is said for so many days.
OPEN_SAID = 14
#: Honey to hold is said for so many days after it was drawn.
HOLD_SAID = 730

_RANK: dict[Timing, int] = {"late": 0, "ask": 1, "due": 2, "waiting": 3}


def hive_agenda(state: HiveState, day: date) -> list[Item]:
    """Return what is to be done at a hive as seen on `day`, late first."""
    if state.ended:
        return []
    asked = day.toordinal()
    items = [item for part in _PARTS for item in part(state, asked)]
    return sorted(items, key=order)


def order(item: Item) -> tuple[int, int, date, str]:
    """Return the place of an item: late first, among them pieces, then the nearer day."""
    when = item.last or item.target or item.first or date.max
    return (_RANK[item.timing], 0 if item.task == "remove" else 1, when, item.task)


def _item(
    state: HiveState,
    task: str,
    timing: Timing,
    days: tuple[int | None, int | None, int | None],
    what: Phrase,
    reasons: Iterable[Reason] = (),
    treatment: str | None = None,
) -> Item:
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


def _timing(first: int | None, last: int | None, day: int) -> Timing:
    if first is not None and day < first:
        return "waiting"
    return "late" if last is not None and day > last else "due"


def _name(state: HiveState, terms: str, treatment: str) -> str:
    known = state.terms.get(terms)
    return known.name if known else treatment


def _source(terms: Terms | None, value: str, phrase: Phrase, records: tuple[str, ...]) -> Reason:
    source = terms.source(value) if terms else None
    text, standing = (source.text, source.standing) if source else ("", "")
    return Reason(phrase, records, text, standing)


# Courses


def _courses(state: HiveState, day: int) -> Iterator[Item]:
    for course in state.courses:
        window = next_window(course)
        if window is not None:
            yield from _next_application(state, course, day)
        if course.asks and not course.ended:
            name = _name(state, course.terms, course.treatment)
            what = say("{name}: which course does the application belong to?", name=name)
            said = Reason(say("days between not known"), (course.asks[-1], course.id))
            yield _item(
                state, "joins", "ask", (course.last, None, None), what, [said], course.treatment
            )


def _next_application(state: HiveState, course: Course, day: int) -> Iterator[Item]:
    word = course_state(course, state, day)
    name = _name(state, course.terms, course.treatment)
    reasons = [_why_next(state, course)]
    window = next_window(course)
    days = (None, None, None) if window is None else (window.first, window.target, window.last)
    number = of_number(course)
    if word == "pieces in":
        # More pieces may be due while the first are in: judged by the days alone.
        word = by_days(course, day)
    if word == "broken off":
        ended = course.last + 2 * (course.gap.most or 0) + 1 if course.gap else None
        what = say(
            "{name}: broken off after {number}. Start again, or stop?", name=name, number=number
        )
        yield _item(state, "restart", "ask", (ended, None, None), what, reasons, course.treatment)
        return
    what = say("{name}: next application, {number} given", name=name, number=number)
    timings: dict[str, Timing] = {"waiting": "waiting", "late": "late"}
    yield _item(state, "apply", timings.get(word, "due"), days, what, reasons, course.treatment)


def _why_next(state: HiveState, course: Course) -> Reason:
    terms, plan = state.terms.get(course.terms), state.plans.get(course.plan)
    gap = course.gap
    records = (course.doses[-1].id, *((plan.id,) if plan else ()))
    if gap is None or gap.most is None:
        said = say("last given on {day}, days between not known", day=as_date(course.last))
    elif gap.least is None:
        said = say(
            "last given on {day}, at most {most} days between",
            day=as_date(course.last),
            most=gap.most,
        )
    else:
        said = say(
            "last given on {day}, {least} to {most} days between",
            day=as_date(course.last),
            least=gap.least,
            most=gap.most,
        )
    if plan is not None:
        return Reason(said, records, "", plan.ground)
    return _source(terms, "gap", said, records)


# Pieces


def _pieces(state: HiveState, day: int) -> Iterator[Item]:
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
    name = _name(state, exposure.terms, exposure.treatment)
    since = as_date(exposure.first)
    said = _source(terms, "stay", say("pieces in since {day}", day=since), (exposure.id,))
    what = say("{name}: pieces out", name=name)
    treatment = exposure.treatment
    if window is None or (window.least is None and window.most is None):
        asked = say(
            "{name}: pieces in since {day}, stay not known: look on the label", name=name, day=since
        )
        yield _item(state, "remove", "ask", (None, None, None), asked, [said], treatment)
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
        yield _item(
            state,
            "remove",
            _timing(window.least, window.most, day),
            days,
            what,
            [said, *looked],
            treatment,
        )
    elif window.most is not None and day > window.most:
        yield _item(state, "remove", "late", days, what, [said], treatment)
    decides = window.decides_on
    if decides is not None and (window.look is None or window.look.day < decides):
        timing = _timing(decides, window.most if window.condition == "not known" else None, day)
        yield _item(
            state,
            "look_brood",
            timing,
            (decides, decides, window.most),
            say("{name}: look: sealed brood?", name=name),
            [said, *_outcomes(window)],
            treatment,
        )


_BROOD = {"none": say("none"), "hardly any": say("hardly any"), "yes": say("yes")}


def _outcomes(window: Stays) -> Iterator[Reason]:
    """Return both outcomes of a look at sealed brood."""
    for when, _, most in window.outcomes:
        if most is None:
            continue
        if when == NO_BROOD:
            yield Reason(say("no or hardly any sealed brood: out by {day}", day=as_date(most)))
        elif when == BROOD:
            yield Reason(say("sealed brood: out by {day}", day=as_date(most)))


def _pieces_asked(state: HiveState, exposure: Exposure) -> Iterator[Item]:
    name = _name(state, exposure.terms, exposure.treatment)
    none = (None, None, None)
    records = (exposure.id, *exposure.records)
    if exposure.into is None:
        what = say("{name}: how many pieces went in?", name=name)
        reason = Reason(say("a number that nobody gave is not known"), records)
        yield _item(state, "pieces", "ask", none, what, [reason], exposure.treatment)
    if exposure.not_found:
        what = count(
            "{name}: 1 piece not found: search every box frame by frame",
            "{name}: {n} pieces not found: search every box frame by frame",
            exposure.not_found,
            name=name,
        )
        reason = Reason(say("pieces in until seen outside, or every box was searched"), records)
        yield _item(state, "pieces", "ask", none, what, [reason], exposure.treatment)
    if exposure.unsure:
        what = say("{name}: how many pieces went along in the split?", name=name)
        reason = Reason(say("until it is answered they count as in, in both hives"), records)
        yield _item(state, "pieces", "ask", none, what, [reason], exposure.treatment)
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
        reason = _source(terms, "dose", say("pieces of two hives are in one"), records)
        yield _item(state, "take_out", "due", none, what, [reason], exposure.treatment)


def _label_pieces(terms: Terms | None, boxes: int | None) -> int | None:
    if terms is None or terms.label_pieces is None:
        return None
    number, per = terms.label_pieces
    if per == "colony":
        return number
    return number * boxes if per in ("brood chamber", "box") and boxes is not None else None


# Looks and counts


def _looks(state: HiveState, day: int) -> Iterator[Item]:
    for course in state.courses:
        terms = state.terms.get(course.terms)
        if terms is not None and terms.form == "act":
            continue
        for dose in course.doses:
            if dose.day <= day <= dose.day + LOOK_AFTER_ENDS and not course.ended:
                yield from _look_after(state, course, dose, day)
            own = state.terms.get(dose.terms) or terms
            if own is not None and own.look_queen is not None:
                yield from _look_queen(state, course, dose, own, day)


def _look_after(state: HiveState, course: Course, dose: Dose, day: int) -> Iterator[Item]:
    done = any(
        event.what == "day after"
        and (event.ref == dose.id or (not event.ref and event.day > dose.day))
        for event in state.events
    )
    if not done:
        name = _name(state, course.terms, course.treatment)
        first = dose.day + 1
        what = say("{name}: the day after: entrance and board first", name=name)
        said = Reason(
            say("given on {day}", day=as_date(dose.day)), (dose.id,), "", "common practice"
        )
        timing = _timing(first, first + 1, day)
        yield _item(
            state, "look_after", timing, (first, first, first + 1), what, [said], course.treatment
        )


def _look_queen(
    state: HiveState, course: Course, dose: Dose, terms: Terms, day: int
) -> Iterator[Item]:
    due = dose.day + (terms.look_queen or 0)
    done = any(event.what == "looked" and event.day >= due for event in state.events)
    if dose.day <= day <= due + 30 and not done:
        said = _source(
            terms, "look_queen", say("given on {day}", day=as_date(dose.day)), (dose.id,)
        )
        what = say("{name}: look for the queen", name=terms.name)
        timing = _timing(due, due + 7, day)
        yield _item(
            state, "look_queen", timing, (due, due, due + 7), what, [said], course.treatment
        )


def _counts(state: HiveState, day: int) -> Iterator[Item]:
    ended = []
    for course in state.courses:
        if course_state(course, state, day) in ("complete", "taken out early", "stay not known"):
            end = last_day(course, state)
            if end is not None:
                ended.append((end, course))
    if not ended:
        return
    end, course = max(ended, key=lambda pair: pair[0])
    first, last = end + COUNT_AFTER, end + 2 * COUNT_AFTER
    again = any(other.first > end for other in state.courses)
    done = any(event.what == "count" and event.day >= first for event in state.events)
    if end <= day <= end + COUNT_ENDS and not again and not done:
        name = _name(state, course.terms, course.treatment)
        what = say("{name}: count mites: did it work?", name=name)
        said = Reason(
            say(
                "the course ended on {day}; no verdict before {days} days after it",
                day=as_date(end),
                days=COUNT_AFTER,
            ),
            (course.id,),
            "",
            "common practice",
        )
        timing = _timing(first, last, day)
        yield _item(
            state, "count_after", timing, (first, first, last), what, [said], course.treatment
        )


def _boards(state: HiveState, day: int) -> Iterator[Item]:
    boards = [event for event in state.events if event.what in ("board in", "board out")]
    if boards and boards[-1].what == "board in":
        put = boards[-1]
        first, target, last = (put.day + days for days in BOARD_DAYS)
        said = Reason(
            say("board in since {day}", day=as_date(put.day)), (put.key[3],), "", "common practice"
        )
        yield _item(
            state,
            "board_out",
            _timing(first, last, day),
            (first, target, last),
            say("Read the board and take it out"),
            [said],
        )


def _queen(state: HiveState, day: int) -> Iterator[Item]:
    caged = released = None
    for event in state.events:
        if event.what == "caged":
            caged, released = event, None
        elif event.what == "released":
            released = event
        elif event.what in ("removed", "introduced", "died"):
            caged = None
    if caged is None:
        return
    first = caged.day + BROODLESS_AFTER
    last = released.day + SEALED_AFTER_RELEASE - 1 if released is not None else None
    treated = any(dose.day >= first for course in state.courses for dose in course.doses)
    if treated or (last is not None and day > last + LOOK_AFTER_ENDS):
        return
    reasons = [
        Reason(
            say(
                "queen caged on {day}: no sealed brood {days} days later",
                day=as_date(caged.day),
                days=BROODLESS_AFTER,
            ),
            (caged.key[3],),
            "UK label text AN 01519/2014, section 4.4",
            "read",
        )
    ]
    if released is not None:
        reasons.append(
            Reason(
                say(
                    "released on {day}: first newly sealed brood about {days} days later",
                    day=as_date(released.day),
                    days=SEALED_AFTER_RELEASE,
                ),
                (released.key[3],),
                "general pages on bee biology",
                "reported",
            )
        )
    yield _item(
        state,
        "broodless",
        _timing(first, last, day),
        (first, first, last),
        say("Treat now: no sealed brood, and before new brood is sealed"),
        reasons,
    )


# Honey and what is asked


def _honey(state: HiveState, day: int) -> Iterator[Item]:
    if state.supers_off_on is not None and not any(s.hive == state.hive for s in state.supers):
        for row in state.closed:
            if (
                row.last is None
                or day > row.last + OPEN_SAID
                or state.supers_off_on < row.first - 60
            ):
                continue
            if row.first <= day:
                first = row.last + 1
                said = Reason(
                    say("closed to {last}", last=as_date(row.last)),
                    tuple(state.causes[place].record for place in row.causes),
                )
                what = say("Honey and supers from {day}", day=as_date(first))
                yield _item(
                    state,
                    "supers_back",
                    _timing(first, None, day),
                    (first, first, None),
                    what,
                    [said],
                )
    for drawn in state.drawn:
        if drawn.held and day <= drawn.day + HOLD_SAID:
            what = say(
                "Hold lot {lot}: it was drawn on closed days or from an exposed super",
                lot=drawn.lot,
            )
            said = Reason(
                say("drawn on {day}", day=as_date(drawn.day)), (drawn.record, *drawn.held)
            )
            yield _item(state, "hold", "due", (drawn.day, None, None), what, [said])


def _asked(state: HiveState, _: int) -> Iterator[Item]:
    for question in state.questions:
        if question.what == "period":
            terms = next(
                (t for t in state.terms.values() if t.treatment == question.treatment), None
            )
            name = terms.name if terms else question.treatment
            what = say(
                "{name}: withdrawal period not known. Ask for the label line, or a veterinarian",
                name=name,
            )
            reasons = [
                Reason(say("honey is closed until it is known who says what"), question.records)
            ]
            if terms is not None and terms.period_shown is not None and terms.period is None:
                shown = terms.period_shown
                reasons.append(_shown(shown.days, shown.source, shown.standing))
            yield _item(
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


def _dead(state: HiveState, day: int) -> Iterator[Item]:
    if state.dead is not None and state.dead <= day:
        said = Reason(say("dead on {day}", day=as_date(state.dead)), (state.dead_record,))
        yield _item(
            state,
            "dead",
            "due",
            (state.dead, state.dead, None),
            say("Close the entrance; find the cause before any comb is used again"),
            [said],
        )


_PARTS: tuple[Callable[[HiveState, int], Iterator[Item]], ...] = (
    _courses,
    _pieces,
    _looks,
    _counts,
    _boards,
    _queen,
    _honey,
    _asked,
    _dead,
)
