"""The hole in the course: the line of days, what it leaves, and what a late visit would open."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.hole import Hole
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.hole_picture import HolePicture
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK
from fieldapp.words import Phrase, count, say

if TYPE_CHECKING:
    from fieldapp.screens.options_flow import OptionsFlow


def page(way: OptionsFlow, hole: Hole, back: Act) -> Page:
    """Return the course over the cells sealed on its first day."""
    look = way.flow.look
    middle: list[Block] = [
        HolePicture(look, hole),
        Words(
            look,
            say(
                "Days after the start. Square and bar: a visit, and how long it acts. "
                "Filled: cells whose mites are met. Hatched: they hatch unmet."
            ),
            "small",
        ),
    ]
    for share in hole.shares:
        middle.append(Tell(look, "done" if share.whole else "late", share.words, bold=True))
        middle += [Words(look, each, "small") for each in share.hatching]
    reasons = hole.reasons
    middle += [Tell(look, "unknown", each, "small") for each in reasons[:2]]
    middle += [_steps(way, hole), _late_key(way, hole)]
    for delay in hole.delays:
        middle.append(Tell(look, "late" if delay.harms else "done", delay.words[0], "small"))
        middle += [Words(look, each, "small") for each in delay.words[1:]]
    middle += [Words(look, each, "small", "quiet") for each in reasons[2:]]
    return Page(
        look,
        head=[
            title(look, say("The hole in the course")),
            Words(look, _about(hole), "small"),
        ],
        low_head=[Words(look, say("The hole in the course"), bold=True)],
        middle=middle,
        back=back,
        name="hole",
    )


def _about(hole: Hole) -> Phrase:
    visits = count("{n} visit", "{n} visits", len(hole.visits))
    return say(
        "{treatment}: {visits}, from {start}",
        treatment=hole.name,
        visits=visits,
        start=hole.start,
    )


def _steps(way: OptionsFlow, hole: Hole) -> Grid:
    look = way.flow.look

    def key(text: Phrase, act: Callable[[], None]) -> Key:
        return Key(look, text, shown_after(way.flow, act), least=DESK, size="small")

    return Grid(
        look,
        [
            key(say("1 visit less"), partial(hole.add_visits, -1)),
            key(say("1 visit more"), partial(hole.add_visits, 1)),
            key(say("1 day closer"), partial(hole.add_days, -1)),
            key(say("1 day wider"), partial(hole.add_days, 1)),
        ],
        least=80,
    )


def _late_key(way: OptionsFlow, hole: Hole) -> Key:
    shown = (
        say("shown: visit {n} two days late", n=hole.late + 1)
        if hole.late
        else say("shown: every visit on its day")
    )
    return desk_key(
        way.flow.look,
        say("Look at a late visit"),
        shown_after(way.flow, hole.turn_late),
        under=shown,
    )
