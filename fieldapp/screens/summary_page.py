"""What a round came to: what was not treated and why first, then what was, then what comes."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.round import Round
from fieldapp.rounds.summary import summary
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow


def page(way: RoundFlow, round_: Round, *, ended: bool) -> Page:
    """Return the summary of a round, ended or still under way."""
    look = way.flow.look
    parts = summary(way.flow.kit.notebook, round_)
    middle: list[Block] = [heading(look, say("Not done"))]
    middle += [Tell(look, "late", words) for words in parts.not_done]
    if not parts.not_done:
        middle.append(Tell(look, "done", say("no hive was left out")))
    middle.append(heading(look, say("Done")))
    middle += [Tell(look, "done", words) for words in parts.done]
    if not parts.done:
        middle.append(Tell(look, "quiet", say("no hive yet")))
    if parts.flags:
        middle.append(heading(look, say("To note")))
        middle += [Tell(look, "late", words) for words in parts.flags]
    middle.append(heading(look, say("What comes next")))
    middle += [Tell(look, "due", words) for words in parts.next]
    if not parts.next:
        middle.append(Tell(look, "quiet", say("nothing that the records know of")))
    if ended:
        acts = [main_key(look, say("What is due"), way.flow.due)]
    else:
        acts = [
            main_key(look, say("Go on"), lambda: way.round(round_)),
            Key(look, say("End round"), lambda: way.end_round(round_)),
        ]
    return Page(
        look,
        head=[
            title(look, say("Round over") if ended else say("So far")),
            Words(look, say("{apiary}, {what}", apiary=round_.place, what=round_.name), "small"),
        ],
        middle=middle,
        acts=acts,
        back=None if ended else partial(way.round, round_),
        back_key=False,
        apart=True,
        name="summary",
    )
