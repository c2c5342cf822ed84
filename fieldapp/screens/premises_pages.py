"""One apiary: how it stands with the office, what is written down of it, its hives moved."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.premises import Premises
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK
from fieldapp.words import count, say

if TYPE_CHECKING:
    from fieldapp.screens.premises_flow import PremisesFlow


def page(way: PremisesFlow, apiary: str, back: Act) -> Page:
    """Return an apiary: a standstill first, registration, counts; then what can be entered."""
    look, flow = way.flow.look, way.flow
    premises = Premises(flow.kit.notebook, apiary)
    again = partial(way.page, apiary, back)
    living = premises.living
    middle: list[Block] = [
        Tell(look, told.sign, told.words, bold=told.sign == "late") for told in premises.told()
    ]
    keys = [
        desk_key(look, say("Add hives"), partial(flow.hives.add, apiary, again)),
        desk_key(look, say("Move hives"), partial(flow.happenings.move, apiary, "", again)),
        desk_key(look, say("Colony count"), partial(way.colonies, apiary, again)),
        desk_key(look, say("Inspector's visit"), partial(way.visit, apiary, again)),
        desk_key(look, say("Name and number"), partial(way.registration, apiary, again)),
        desk_key(look, say("Movements, visits"), partial(way.lines, apiary, again)),
    ]
    unreported = len(premises.unreported())
    if unreported:
        words = count("{n} count without one", "{n} counts without one", unreported)
        report = partial(way.report, apiary, again)
        middle.append(desk_key(look, say("Write a report down"), report, under=words))
    middle.append(Grid(look, keys, least=3 * DESK))
    return Page(
        look,
        head=[
            title(look, premises.name),
            Words(look, count("{n} living colony", "{n} living colonies", living), "small"),
        ],
        low_head=[heading(look, premises.name)],
        middle=middle,
        acts=[main_key(look, say("Hives"), partial(flow.hives.at, apiary))],
        back=back,
        name="premises",
    )


def lines_page(way: PremisesFlow, apiary: str, back: Act) -> Page:
    """Return movements, counts and visits, the latest first; a tap opens the record."""
    look = way.flow.look
    premises = Premises(way.flow.kit.notebook, apiary)
    again = partial(way.lines, apiary, back)
    middle: list[Block] = [
        desk_key(
            look,
            line.told,
            partial(way.flow.hives.record, "", line.root, again),
            under=line.words,
        )
        for line in premises.lines()
    ]
    if not middle:
        words = say("Nothing yet. Counts, visits, and hives that come, move and go stand here.")
        middle.append(Tell(look, "unknown", words))
    return Page(
        look,
        head=[title(look, say("Movements, visits")), Words(look, premises.name, "small")],
        low_head=[heading(look, say("Movements, visits"))],
        middle=middle,
        back=back,
        name="premises lines",
    )
