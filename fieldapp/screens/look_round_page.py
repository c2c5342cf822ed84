"""A round of looking: the next hive in one large field, where the round of treating has it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.look_round import LookRound
from fieldapp.rounds.spots import WHY, Spot
from fieldapp.screens.block import Block, Row, Space, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import BigField, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import passed_of, title
from fieldapp.screens.round_page import MARKS, SIGNS
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import APART, SPACE
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.look_flow import LookFlow


def page(way: LookFlow, round_: LookRound, told: Phrase | None = None) -> Page:
    """Return the main page of a round of looking."""
    look = way.flow.look
    last = round_.last
    way.flow.until(None if last is None else last.ends)
    spots = round_.spots
    passed = sum(spot.mark != "open" for spot in spots)
    progress = passed_of(passed, len(spots))
    after = next((spot for spot in round_.from_last(spots) if spot.mark == "open"), None)
    if last is not None:
        sign = SIGNS[round_.spot(last.hive).mark]
        head = Tell(look, sign, last.did, "title", bold=True)
        low = Tell(look, sign, last.did, "small", bold=True)
        keys = [
            Key(look, say("Undo"), partial(way.undo, round_)),
            Key(look, say("Hive's page"), partial(way.hive, round_, last.hive)),
        ]
    else:
        head = Tell(look, "quiet", told or progress, "title", bold=True)
        low = Tell(look, "quiet", told or progress, "small", bold=True)
        keys = [
            Key(look, say("Other hive"), partial(way.grid, round_)),
            Key(look, say("End round"), partial(way.end, round_)),
        ]
    middle: list[Block] = [Words(look, progress)] if last is not None or told is not None else []
    middle += [Words(look, round_.name), Words(look, round_.place)]
    return Page(
        look,
        head=[head],
        low_head=[low],
        middle=middle,
        foot=[Row(look, keys, APART), Space(look, APART - 2 * SPACE), _field(way, round_, after)],
        back=way.flow.due,
        turns=False,
        name="look round",
    )


def _field(way: LookFlow, round_: LookRound, after: Spot | None) -> BigField:
    look = way.flow.look
    if after is None:
        return BigField(
            look,
            say("All {n}", n=len(round_.spots)),
            partial(way.end, round_),
            above=say("The walk is done"),
            gets=say("End round"),
        )
    return BigField(
        look,
        say("Hive {number}", number=after.number),
        partial(way.ask, round_, after.hive),
        above=say("Next: tap when you stand before it"),
        gets=round_.name,
    )


def grid_page(way: LookFlow, round_: LookRound) -> Page:
    """Return all hives of the round, for one out of order."""
    look = way.flow.look
    keys = [
        Key(
            look,
            spot.number,
            partial(way.ask, round_, spot.hive)
            if spot.mark == "open"
            else partial(way.hive, round_, spot.hive),
            under=[(MARKS[spot.mark], "small")],
            size="title",
            sign=SIGNS[spot.mark],
        )
        for spot in round_.spots
    ]
    after, acts = round_.next, []
    if after is not None:
        words = say("Pass over hive {number}", number=after.number)
        acts.append(Key(look, words, partial(way.why, round_, after)))
    return Page(
        look,
        head=[title(look, say("Which hive?"))],
        middle=[Grid(look, keys)],
        acts=acts,
        back=partial(way.round, round_),
        name="look grid",
    )


def why_page(way: LookFlow, round_: LookRound, spot: Spot) -> Page:
    """Return the reasons for passing a hive over."""
    look = way.flow.look
    keys = [
        Key(look, words, partial(way.skip, round_, spot.hive, why)) for why, words in WHY.items()
    ]
    return Page(
        look,
        head=[title(look, say("Hive {number} not done: why?", number=spot.number))],
        middle=[Grid(look, keys)],
        back=partial(way.round, round_),
        name="look why",
    )
