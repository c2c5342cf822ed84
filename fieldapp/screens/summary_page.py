"""What a round came to: what was not treated and why first, then what was, then what comes."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.vocabulary import WHY_OTHERWISE
from fieldapp.rounds.round import Round
from fieldapp.rounds.summary import Flagged, summary
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
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
    middle: list[Block] = [Tell(look, "late", words, bold=True) for words in parts.running]
    about = say("{apiary}, {what}", apiary=round_.place, what=round_.name)
    middle.append(Words(look, about, "small"))
    middle.append(heading(look, say("Not done")))
    middle += [Tell(look, "late", words) for words in parts.not_done]
    if not parts.not_done:
        middle.append(Tell(look, "done", say("no hive was left out")))
    middle.append(heading(look, say("Done")))
    middle += [Tell(look, "done", words) for words in parts.done]
    if not parts.done:
        middle.append(Tell(look, "quiet", say("no hive yet")))
    if parts.flags:
        middle.append(heading(look, say("To note")))
        for flagged in parts.flags:
            middle += _flagged(way, round_, flagged, ended=ended)
    middle.append(heading(look, say("What comes next")))
    middle += [Tell(look, each.sign, each.words) for each in parts.next]
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
        head=[title(look, say("Round over") if ended else say("So far"))],
        middle=middle,
        acts=acts,
        back=None if ended else partial(way.round, round_),
        back_key=False,
        apart=True,
        name="summary",
    )


def _flagged(way: RoundFlow, round_: Round, flagged: Flagged, *, ended: bool) -> list[Block]:
    """Return what is otherwise than the label, and the key that asks why."""
    look = way.flow.look
    if not flagged.asks:
        return [Tell(look, "late", flagged.words)]
    why = flagged.why if flagged.why is not None else say("Why? Tap to say.")
    return [
        Key(
            look,
            flagged.words,
            lambda: way.ask_why(round_, flagged, ended=ended),
            under=[(why, "small")],
            sign="late",
            centred=False,
        )
    ]


def why_page(way: RoundFlow, round_: Round, flagged: Flagged, *, ended: bool) -> Page:
    """Return the reasons for what is otherwise than the label has it."""
    look = way.flow.look
    keys = [
        Key(look, words, partial(way.say_why, round_, flagged, why, ended=ended))
        for why, words in WHY_OTHERWISE.items()
    ]
    return Page(
        look,
        head=[title(look, say("Why?")), Words(look, flagged.words, bold=True)],
        low_head=[Words(look, flagged.words, "small", bold=True)],
        middle=[Grid(look, keys)],
        back=lambda: way.flow.show_page(lambda: page(way, round_, ended=ended)),
        name="reason",
    )
