"""The apiaries, each the way to its register and its hives; more are added here."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.apiaries import places
from fieldapp.screens.block import Block
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.words import count, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def page(flow: Flow, back: Act) -> Page:
    """Return the apiaries: a tap on one opens it."""
    look = flow.look
    again = partial(flow.hives.places, back)
    found = places(flow.kit.notebook, None)
    middle: list[Block] = [
        desk_key(
            look,
            place.name,
            partial(flow.premises.page, place.id, again),
            under=count("{n} hive", "{n} hives", place.hives),
        )
        for place in found
    ]
    if not found:
        words = say("No apiary yet. Add one here, or pair with your server at home and sync.")
        middle.append(Tell(look, "unknown", words))
    return Page(
        look,
        head=[title(look, say("Apiaries"))],
        low_head=[heading(look, say("Apiaries"))],
        middle=middle,
        acts=[main_key(look, say("Add an apiary"), partial(flow.hives.add_apiary, again))],
        back=back,
        name="places",
    )
