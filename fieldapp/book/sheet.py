"""The sheet of a day: all that the first page tells of it, and its form in the book's file."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from fieldapp.book.answers import Place
from fieldapp.book.codec import Damaged, frozen, thawed
from fieldapp.husbandry.answers import Line, Reason
from fieldapp.words import Arg, Degrees, Phrase


class Sheet(NamedTuple):
    """What is to be done on a day, every apiary, and how many hives its walk has, by its id."""

    day: date
    lines: tuple[Line, ...]
    places: tuple[Place, ...]
    walks: Mapping[str, int]


def freeze(sheet: Sheet) -> str:
    """Return a sheet as text."""
    lines = [
        [*line[:4], *map(_day_out, line[4:7]), line.hives, _out(line.what), _reasons_out(line)]
        for line in sheet.lines
    ]
    return frozen([_day_out(sheet.day), lines, sheet.places, sheet.walks])


def thaw(text: str) -> Sheet:
    """Return the sheet that `freeze` made into text. Raises `Damaged` where it is not that."""
    try:
        day, lines, places, walks = thawed(tuple[Any, ...], text)
        return Sheet(
            date.fromisoformat(day),
            tuple(map(_line, lines)),
            tuple(Place(*place) for place in places),
            walks,
        )
    except (ValueError, TypeError, LookupError) as error:
        raise Damaged(text[:40]) from error


def _line(told: list[Any]) -> Line:
    task, apiary, treatment, timing, *days, hives, what, reasons = told
    first, target, last = map(_day_in, days)
    why = tuple(Reason(_in(said), tuple(records), *more) for said, records, *more in reasons)
    return Line(task, apiary, treatment, timing, first, target, last, tuple(hives), _in(what), why)


def _day_out(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _day_in(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


def _reasons_out(line: Line) -> list[Any]:
    return [[_out(reason.phrase), *reason[1:]] for reason in line.reasons]


def _out(phrase: Phrase) -> list[Any]:
    return [phrase.text, [[name, _arg_out(arg)] for name, arg in phrase.args], *phrase[2:]]


def _in(told: list[Any]) -> Phrase:
    text, args, *more = told
    return Phrase(text, tuple((name, _arg(arg)) for name, arg in args), *more)


def _arg_out(arg: Arg) -> Any:
    """Return what fills a place of a phrase, what JSON has no form for by the name of its kind."""
    if isinstance(arg, Phrase):
        return {"phrase": _out(arg)}
    if isinstance(arg, Degrees):
        return {"degrees": list(arg)}
    if isinstance(arg, date):
        return {"day": arg.isoformat()}
    return arg


def _arg(told: Any) -> Arg:
    if not isinstance(told, dict):
        plain: Arg = told
        return plain
    ((kind, value),) = told.items()
    if kind == "phrase":
        return _in(value)
    return Degrees(*value) if kind == "degrees" else date.fromisoformat(value)
