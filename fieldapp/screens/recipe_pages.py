"""A recipe of one's own, step by step: what goes in, how much, how hot."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.bench import Bench
from fieldapp.rounds.bench_told import told_steps
from fieldapp.rounds.recipes import PARTS, OwnRecipe, units_for
from fieldapp.screens.block import Block, Words
from fieldapp.screens.entry import Entry
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.bench_flow import BenchFlow


def own_page(way: BenchFlow, bench: Bench, own: OwnRecipe, back: Act) -> Page:
    """Return the steps so far, and what the next one may be."""
    look = way.flow.look
    again = partial(way.own_steps, bench, own, back)
    middle: list[Block] = []
    if not own.steps:
        middle.append(
            Tell(look, "unknown", say("First: put something in. Every amount as on your paper."))
        )
    for told in told_steps(bench, own.recipe, cups=look.speech.habits.cups):
        words = say("{n}. {act}", n=told.number + 1, act=told.act)
        if told.figure is not None:
            words = say("{words}: {figure}", words=words, figure=told.figure)
        middle.append(Words(look, words, bold=True))
        middle += [Words(look, each, "small") for each in told.under]
        middle += [Tell(look, sign, each, "small") for sign, each in told.findings]
    keys = [
        _key(way, say("Put in"), partial(way.own_part, own, again)),
        _key(way, say("Heat to"), partial(way.own_heat, own, again)),
        _key(way, say("Let it fall"), shown_after(way.flow, own.cool)),
        _key(way, say("Stir"), shown_after(way.flow, own.stir)),
    ]
    if own.steps:
        keys.append(_key(way, say("Last step away"), shown_after(way.flow, own.take_last_back)))
    middle.append(Grid(look, keys, least=100))
    middle.append(
        Entry(look, say("Name"), own.name, lambda text: setattr(own, "name", text.strip()))
    )

    def save() -> None:
        bench.choose(own.save())
        way.mix(bench, back)

    return Page(
        look,
        head=[title(look, say("Own recipe"))],
        low_head=[heading(look, say("Own recipe"))],
        middle=middle,
        acts=[main_key(look, say("Keep it"), save)] if own.ready else [],
        back=partial(way.recipes, back),
        name="own recipe",
    )


def part_page(way: BenchFlow, own: OwnRecipe, back: Act) -> Page:
    """Return the choice of what goes in."""
    return _choice(
        way, say("What goes in?"), PARTS, lambda what: way.own_unit(own, what, back), back
    )


def unit_page(way: BenchFlow, own: OwnRecipe, what: str, back: Act) -> Page:
    """Return the choice of how it is measured."""
    flow = way.flow
    units = units_for(flow.kit.notebook, what, cups=flow.look.speech.habits.cups)
    return _choice(
        way, say("Measured in?"), units, lambda unit: way.own_amount(own, what, unit, back), back
    )


def off_heat_page(way: BenchFlow, put: Callable[[bool], None], back: Act) -> Page:
    """Return the question whether the pot stands on the heat while something goes in."""
    look = way.flow.look
    return Page(
        look,
        head=[title(look, say("Is the pot on the heat?"))],
        middle=[
            Key(look, say("Off the heat"), partial(put, True), centred=False),
            Key(look, say("On the heat"), partial(put, False), centred=False),
        ],
        back=back,
        name="off heat",
    )


def _choice(
    way: BenchFlow,
    asked: Phrase,
    words: Mapping[str, Phrase | str],
    chosen: Callable[[str], None],
    back: Act,
) -> Page:
    look = way.flow.look
    return Page(
        look,
        head=[title(look, asked)],
        low_head=[heading(look, asked)],
        middle=[desk_key(look, phrase, partial(chosen, key)) for key, phrase in words.items()],
        back=back,
        name="own choice",
    )


def _key(way: BenchFlow, text: Phrase, act: Act) -> Key:
    return Key(way.flow.look, text, act, least=DESK)
