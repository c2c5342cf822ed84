"""An acid diluted by mass: what is on its bottle, what is wanted, and what goes into what."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.amounts import number_of
from fieldapp.rounds.diluting import ASKED, CAUTIONS, MOST, Asked, Diluting
from fieldapp.screens import number_page
from fieldapp.screens.block import Block
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, line, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, Role
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.bench_flow import BenchFlow


def page(way: BenchFlow, diluting: Diluting, back: Act) -> Page:
    """Return what was said and what follows from it."""
    look = way.flow.look
    middle: list[Block] = [Tell(look, "unknown", each, "small") for each in CAUTIONS]
    for name, (asked, unit) in ASKED.items():
        value = diluting.value(name)
        said = say("not said") if value is None else number_of(float(value), unit)
        sign: Role | None = "unknown" if value is None and name != "density" else None
        ask = partial(show_number, way, diluting, name, back)
        middle.append(desk_key(look, asked, ask, under=said, sign=sign))
    middle.append(heading(look, say("So it goes together")))
    for told in diluting.told():
        middle += line(look, told.sign, told.words, told.why)
    clear = shown_after(way.flow, diluting.clear)
    return Page(
        look,
        head=[title(look, say("Dilute an acid"))],
        low_head=[heading(look, say("Dilute an acid"))],
        middle=middle,
        acts=[Key(look, say("Clear"), clear, least=DESK)],
        back=back,
        name="dilution",
    )


def show_number(way: BenchFlow, diluting: Diluting, name: Asked, back: Act) -> None:
    """Ask for one of the numbers."""
    asked, unit = ASKED[name]
    again = partial(way.dilution, back)

    def take(value: float) -> None:
        diluting.take(name, value)
        again()

    way.flow.show_page(
        lambda: number_page.decimal_page(
            way.flow, asked, unit, take, back=again, most=MOST[name], gloves=True
        )
    )
