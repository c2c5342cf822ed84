"""The agenda of all hives: one line an apiary, day and task, late first."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable, Sequence
from datetime import date

from fieldapp.husbandry.agenda.items import order
from fieldapp.husbandry.answers import Item, Line, Reason
from fieldapp.husbandry.state import HiveState
from fieldapp.words import Phrase, count, say

#: Washes that judge an apiary of any size (Lee, Moon, Burkness, Hutchison, Spivak 2010).
HIVES_TO_COUNT = 8
_LEE = "Lee, Moon, Burkness, Hutchison, Spivak 2010, J. Econ. Entomol. 103(4):1039-1050, abstract"


def grouped(items: Iterable[Item]) -> list[Line]:
    """Return the lines for items of any hives, in the order in which their hives come.

    Items with the same apiary, task, treatment, days and numbers in their words are one line,
    its reasons those of all, each once. Hives that got different numbers of applications are
    treated on one walk: their line says every number.
    """
    rows: dict[tuple[object, ...], list[Item]] = {}
    for item in items:
        under = (item.task, item.apiary, item.treatment, *item[4:8], _apart(item))
        rows.setdefault(under, []).append(item)
    ranked = sorted(rows.values(), key=lambda row: order(row[0]))
    return [_line(row) for row in ranked]


def _apart(item: Item) -> tuple[object, ...]:
    """Return what keeps an item's words from being said of another hive: lots, pieces, days."""
    one_walk = ("name", "number") if item.task == "apply" else ("name",)
    return (item.what.text, *(arg for arg in item.what.args if arg[0] not in one_walk))


def _what(row: Sequence[Item]) -> Phrase:
    """Return the words of a line; those of the first, with the numbers given at every hive."""
    first = row[0].what
    numbers = [dict(item.what.args).get("number") for item in row]
    each = [number for number in dict.fromkeys(numbers) if isinstance(number, Phrase)]
    if len(each) < 2:
        return first
    said = each[0]
    for number in each[1:]:
        said = say("{some}, {more}", some=said, more=number)
    return first._replace(args=tuple((k, said if k == "number" else v) for k, v in first.args))


def _line(row: Sequence[Item]) -> Line:
    first = row[0]
    reasons: dict[Reason, Reason] = {}
    for item in row:
        for reason in item.reasons:
            under = reason._replace(records=())
            known = reasons.get(under)
            if known is None:
                reasons[under] = reason
            elif not set(reason.records) <= set(known.records):
                records = tuple(dict.fromkeys((*known.records, *reason.records)))
                reasons[under] = known._replace(records=records)
    return Line(
        first.task,
        first.apiary,
        first.treatment,
        first.timing,
        first.first,
        first.target,
        first.last,
        tuple(dict.fromkeys(item.hive for item in row)),
        _what(row),
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
    living = [state for state in states if state.lives(day.toordinal())]
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
    what = count(
        "Count mites: {n} more hive this month", "Count mites: {n} more hives this month", missing
    )
    said = Reason(
        say("{n} hives judge an apiary; where there are fewer, all of them", n=HIVES_TO_COUNT),
        (),
        _LEE,
        "read",
    )
    return [Line("count", apiary, None, "due", first, None, last, hives, what, (said,))]
