"""The keeper's own plan, in steps: how many applications, how many days between."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.planning import Plan
from fieldapp.rounds.starting import Start
from fieldapp.screens.block import Block, Row, Words
from fieldapp.screens.keys import Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, SPACE
from fieldapp.words import Phrase, count, say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow

_GROUNDS: dict[str, Phrase] = {
    "label in hand": say("from the label in hand"),
    "common practice": say("common practice, from no label"),
}


def page(way: RoundFlow, start: Start, plan: Plan) -> Page:
    """Return the page on which a plan is stepped to what the keeper wants."""
    look = way.flow.look

    def use(plan_: Plan | None) -> None:
        start.plan = plan_
        way.prepare(start)

    def steps(told: Phrase, less: Phrase, more: Phrase, add: Callable[[int], None]) -> list[Block]:
        keys = [
            Key(look, words, shown_after(way.flow, partial(add, step)), least=DESK, size="small")
            for words, step in ((less, -1), (more, 1))
        ]
        return [Words(look, told), Row(look, keys, SPACE)]

    middle: list[Block] = [
        *steps(
            count("{n} application in all", "{n} applications in all", plan.number),
            say("One less"),
            say("One more"),
            plan.add_applications,
        ),
        *steps(
            count("next after {n} day at least", "next after {n} days at least", plan.least),
            say("1 day earlier"),
            say("1 day later"),
            plan.add_least,
        ),
        *steps(
            count("and after {n} day at most", "and after {n} days at most", plan.most),
            say("1 day earlier"),
            say("1 day later"),
            plan.add_most,
        ),
        desk_key(
            look,
            say("Where it comes from"),
            shown_after(way.flow, plan.turn_ground),
            under=_GROUNDS[plan.ground],
        ),
    ]
    if plan.remark is not None:
        middle.append(Tell(look, "late", plan.remark, bold=True))
    middle.append(desk_key(look, say("No own plan: as the label has it"), partial(use, None)))
    return Page(
        look,
        head=[title(look, say("Own plan")), Words(look, plan.words, "small")],
        low_head=[Words(look, say("Own plan"), bold=True)],
        middle=middle,
        acts=[main_key(look, say("Take this plan"), partial(use, plan))],
        back=lambda: way.prepare(start),
        name="plan",
    )
