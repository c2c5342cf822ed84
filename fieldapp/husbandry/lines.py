"""The agenda of all hives: one line an apiary, day and task, late first."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable, Sequence
from datetime import date

from fieldapp.husbandry.agenda.items import order
from fieldapp.husbandry.answers import Item, Line, Reason
from fieldapp.husbandry.state import HiveState
from fieldapp.words import say

#: Washes that judge an apiary of any size (Lee, Moon, Burkness, Hutchison, Spivak 2010).
HIVES_TO_COUNT = 8
_LEE = "Lee, Moon, Burkness, Hutchison, Spivak 2010, J. Econ. Entomol. 103(4):1039-1050, abstract"


def grouped(items: Iterable[Item]) -> list[Line]:
    """Return the lines for items of any hives, in the order in which their hives come.

    Items with the same apiary, task, treatment and days are one line; its words are those of
    the first, its reasons those of all, each once.
    """
    rows: dict[tuple[object, ...], list[Item]] = {}
    for item in items:
        under = (item.task, item.apiary, item.treatment, *item[4:8], item.what.text)
        rows.setdefault(under, []).append(item)
    ranked = sorted(rows.values(), key=lambda row: order(row[0]))
    return [_line(row) for row in ranked]


def _line(row: Sequence[Item]) -> Line:
    first = row[0]
    reasons: dict[object, Reason] = {}
    for item in row:
        for reason in item.reasons:
            known = reasons.get(reason.phrase)
            if known is None:
                reasons[reason.phrase] = reason
            elif not set(reason.records) <= set(known.records):
                records = tuple(dict.fromkeys((*known.records, *reason.records)))
                reasons[reason.phrase] = known._replace(records=records)
    return Line(
        first.task,
        first.apiary,
        first.treatment,
        first.timing,
        first.first,
        first.target,
        first.last,
        tuple(dict.fromkeys(item.hive for item in row)),
        first.what,
        tuple(reasons.values()),
    )


def line_order(line: Line) -> tuple[int, int, date, str]:
    """Return the place of a line: late first, among them pieces, then the nearer day.

    What is to be done at hives comes before what the books ask for.
    """
    item = Item(line.task, "", line.apiary, line.treatment, *line[3:7], line.what, ())
    timing, pieces, when, task = order(item)
    return (timing, pieces if line.apiary or line.hives else 2, when, task)


def monthly_count(apiary: str, states: Sequence[HiveState], day: date) -> list[Line]:
    """Return the line that asks for this month's counts of an apiary, if any are missing.

    In season, eight hives an apiary are washed a month, all of them where there are fewer.
    """
    living = [state for state in states if state.dead is None and not state.ended]
    south = next((state.south for state in living if state.south is not None), False)
    season = (10, 11, 12, 1, 2, 3) if south else (4, 5, 6, 7, 8, 9)
    if not living or day.month not in season:
        return []
    first = day.replace(day=1)
    last = day.replace(day=monthrange(day.year, day.month)[1])
    counted = {
        state.hive
        for state in living
        for event in state.events
        if event.what == "count" and first.toordinal() <= event.day <= day.toordinal()
    }
    wanted = min(HIVES_TO_COUNT, len(living))
    if len(counted) >= wanted:
        return []
    missing = wanted - len(counted)
    hives = tuple(state.hive for state in living if state.hive not in counted)
    what = say("Count mites: {missing} more hives this month", missing=missing)
    said = Reason(
        say("{wanted} hives judge an apiary, all where there are fewer", wanted=wanted),
        (),
        _LEE,
        "read",
    )
    return [Line("count", apiary, None, "due", first, None, last, hives, what, (said,))]
