"""A day in taps: its year, its month, itself, or only the month's end."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.desk_form import Dated
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import title
from fieldapp.screens.theme import DESK
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

_MONTHS: tuple[Phrase, ...] = (
    say("January"),
    say("February"),
    say("March"),
    say("April"),
    say("May"),
    say("June"),
    say("July"),
    say("August"),
    say("September"),
    say("October"),
    say("November"),
    say("December"),
)


def years(
    flow: Flow, question: Dated, take: Callable[[str], None], again: Act
) -> list[tuple[Phrase | str, Act]]:
    """Return the years to tap, each the way to its months: the nearest first."""
    years = range(question.first, question.last + 1)
    if question.offered:
        years = range(question.last, question.first - 1, -1)
    return [
        (
            str(year),
            partial(flow.show_page, partial(_months_page, flow, question, take, year, again)),
        )
        for year in years
    ]


def _months_page(
    flow: Flow, question: Dated, take: Callable[[str], None], year: int, again: Act
) -> Page:
    look = flow.look
    keys = [
        Key(
            look,
            words,
            partial(flow.show_page, partial(_days_page, flow, question, take, (year, n), again)),
            least=DESK,
        )
        for n, words in enumerate(_MONTHS, 1)
    ]
    return _day_part(flow, question, say("In {year}", year=str(year)), keys, again)


def _days_page(
    flow: Flow, question: Dated, take: Callable[[str], None], month: tuple[int, int], again: Act
) -> Page:
    look = flow.look
    year, number = month
    following = date(year + number // 12, number % 12 + 1, 1)
    end = following - timedelta(days=1)
    keys = [
        Key(look, str(n), partial(take, date(year, number, n).isoformat()), least=DESK)
        for n in range(1, end.day + 1)
    ]
    if question.ends:
        words = say("No day on it: the month's end")
        keys.insert(0, Key(look, words, partial(take, end.isoformat()), least=DESK))
    name = say("{month} {year}", month=_MONTHS[number - 1], year=str(year))
    return _day_part(flow, question, name, keys, again)


def _day_part(flow: Flow, question: Dated, name: Phrase, keys: list[Key], again: Act) -> Page:
    look = flow.look
    first: list[Block] = []
    if question.ends and len(keys) > len(_MONTHS):
        first, keys = [keys[0]], keys[1:]
    return Page(
        look,
        head=[title(look, question.words), Words(look, name)],
        low_head=[Words(look, name, bold=True)],
        middle=[*first, Grid(look, keys, least=DESK if len(keys) > len(_MONTHS) else 100)],
        back=again,
        name="desk day",
    )
