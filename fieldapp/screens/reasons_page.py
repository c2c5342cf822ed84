"""Why something is so: every reason with the source where it stands, for reading at the desk."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.told import Told
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import line, title
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def key(flow: Flow, about: Phrase, told: Sequence[Told], back: Act, *, least: float) -> Key:
    """Return the key to the reasons of what a page tells in short."""
    shows = partial(_page, flow, about, tuple(told), back)
    return Key(flow.look, say("Why, with sources"), lambda: flow.show_page(shows), least=least)


def _page(flow: Flow, about: Phrase, told: Sequence[Told], back: Act) -> Page:
    middle: list[Block] = []
    for each in told:
        middle += line(flow.look, each.sign, each.words, each.why)
    return Page(
        flow.look,
        head=[title(flow.look, say("Why, with sources")), Words(flow.look, about, "small")],
        low_head=[Words(flow.look, say("Why, with sources"), bold=True)],
        middle=middle,
        back=back,
        name="reasons",
    )
