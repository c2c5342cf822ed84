"""First aid: one tap from every page. The number first, then what to do."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.aid import Aid, aids, at_work, whom_to_call
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import heading, title
from fieldapp.screens.tell import Tell
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def page(flow: Flow, back: Act) -> Page:
    """Return whom to call, what to do for the substance at work, and the other substances."""
    look, notebook = flow.look, flow.kit.notebook
    call = whom_to_call(notebook)
    found = aids(notebook)
    now = at_work(notebook)
    middle: list[Block] = [Words(look, call.words, "small")]
    for aid in found:
        if aid.substance == now:
            middle += _lines(flow, aid)
    others = [
        Key(look, aid.name, partial(_show, flow, aid, partial(flow.aid, back)))
        for aid in found
        if aid.substance != now
    ]
    middle.append(Grid(look, others))
    called = call.number or say("no number")
    return Page(
        look,
        head=[title(look, say("First aid")), *_number(flow, call.number)],
        low_head=[Words(look, say("First aid: {number}", number=called), bold=True)],
        middle=middle,
        back=back,
        name="aid",
        aid_key=False,
    )


def _show(flow: Flow, aid: Aid, back: Act) -> None:
    flow.show_page(lambda: substance_page(flow, aid, back))


def substance_page(flow: Flow, aid: Aid, back: Act) -> Page:
    """Return what to do for one substance."""
    look = flow.look
    call = whom_to_call(flow.kit.notebook)
    return Page(
        look,
        head=[title(look, say("First aid: {substance}", substance=aid.name))],
        middle=[*_lines(flow, aid, named=False), Words(look, call.words, "small")],
        back=back,
        name="aid by substance",
        aid_key=False,
    )


def _number(flow: Flow, number: str | None) -> list[Block]:
    return [] if number is None else [Words(flow.look, number, "figure", bold=True)]


def _lines(flow: Flow, aid: Aid, *, named: bool = True) -> list[Block]:
    look = flow.look
    lines: list[Block] = [heading(look, aid.name)] if named else []
    if not aid.steps:
        lines.append(Tell(look, "unknown", say("Not known here: see the product's label.")))
    for at, (step, where) in enumerate(aid.steps, 1):
        lines.append(Tell(look, "late", step, bold=True))
        if at == len(aid.steps) or aid.steps[at][1] != where:
            lines.append(Words(look, where, "small", "quiet"))
    return lines
