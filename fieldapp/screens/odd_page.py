"""The records that need an eye, each with its reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import heading, title
from fieldapp.screens.tell import Tell
from fieldapp.words import count, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def page(flow: Flow, back: Act) -> Page:
    """Return what is not understood, refused, missing or set aside; nothing is to be done here."""
    look = flow.look
    middle: list[Block] = []
    for part in flow.kit.home.odd_parts():
        middle += [heading(look, part.name), Words(look, part.words, "small")]
        for record in part.records:
            middle += [
                Tell(look, "unknown", record.words),
                Words(look, record.place, "small", "quiet"),
            ]
        if part.more:
            more = count("{n} more record", "{n} more records", part.more)
            middle.append(Words(look, more, "small"))
    if not middle:
        middle.append(Tell(look, "done", say("Every record here is understood and whole.")))
    return Page(
        look, head=[title(look, say("Records to look at"))], middle=middle, back=back, name="odd"
    )
