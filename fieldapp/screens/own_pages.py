"""Own treatments: those there are, and what is known and missing of one before it is kept."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.own_treatment import Answered, OwnTreatment, own_treatments
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.own_flow import OwnFlow


def list_page(way: OwnFlow, back: Act) -> Page:
    """Return the keeper's own treatments, each to be put right, and the way to a new one."""
    look = way.flow.look
    again = partial(way.all, back)
    own = own_treatments(way.flow.kit.notebook)
    middle: list[Block] = [
        desk_key(look, each.name, partial(way.put_right, each.identity, again), under=each.label)
        for each in own
    ]
    if not own:
        words = say(
            "None yet. With a label in your hand that this program does not have, begin below: "
            "each value is asked for, and none is assumed."
        )
        middle.append(Tell(look, "unknown", words))
    begun = OwnTreatment(way.flow.kit.notebook).begun
    act = say("Go on with the one begun") if begun else say("Enter one from its label")
    return Page(
        look,
        head=[title(look, say("Own treatments"))],
        low_head=[heading(look, say("Own treatments"))],
        middle=middle,
        acts=[main_key(look, act, partial(way.new, lambda _: again(), again))],
        back=back,
        name="own treatments",
    )


def summary_page(way: OwnFlow, own: OwnTreatment, save: Act, back: Act) -> Page:
    """Return what is missing before what is known; each line leads to its question."""
    look = way.flow.look
    again = partial(way.summary, own, save, back)
    middle: list[Block] = []
    lacking = own.lacking()
    middle += [_line(way, own, each, again) for each in lacking]
    missing = own.missing()
    if missing:
        middle.append(heading(look, say("Stays not known")))
    middle += [_line(way, own, each, again) for each in missing]
    middle.append(heading(look, say("Known from the label")))
    middle += [_line(way, own, each, again) for each in own.known()]
    middle += [Tell(look, told.sign, told.words, "small") for told in own.remarks]
    if own.begun:

        def forget() -> None:
            own.forget()
            back()

        middle.append(desk_key(look, say("Forget what was entered"), forget))
    acts = [] if lacking else [main_key(look, say("Write it down"), save)]
    return Page(
        look,
        head=[title(look, own.title)],
        low_head=[Words(look, own.title, "small", bold=True)],
        middle=middle,
        acts=acts,
        back=back,
        name="own summary",
    )


def _line(way: OwnFlow, own: OwnTreatment, answered: Answered, again: Act) -> Key:
    under = [answered.answer, *([answered.follows] if answered.follows is not None else [])]
    return Key(
        way.flow.look,
        answered.words,
        partial(way.change, own, answered.name, again),
        under=[(each, "small") for each in under],
        least=DESK,
        sign=answered.sign,
        centred=False,
    )
