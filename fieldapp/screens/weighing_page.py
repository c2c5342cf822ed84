"""A dispenser weighed while its acid evaporates: what went, what is still to go."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.weighing import Dispenser
from fieldapp.screens import number_page
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import line, main_key, title
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def page(flow: Flow, dispenser: Dispenser, back: Act) -> Page:
    """Return what the weighings tell, and the key for the next."""
    look = flow.look
    middle: list[Block] = []
    for told in dispenser.told():
        middle += line(look, told.sign, told.words, told.why)
    middle.append(
        Words(look, say("Mistyped? Weigh again within the hour: the later counts."), "small")
    )
    return Page(
        look,
        head=[
            title(look, say("Hive {number}: weigh", number=dispenser.number)),
            Words(look, dispenser.name, "small"),
        ],
        middle=middle,
        acts=[main_key(look, say("Weigh it now"), partial(_ask, flow, dispenser, back))],
        back=back,
        name="weighing",
    )


def _ask(flow: Flow, dispenser: Dispenser, back: Act) -> None:
    def take(grams: int) -> None:
        dispenser.weigh(grams)
        flow.kit.devices.vibration.tap()
        show(flow, dispenser, back)

    flow.show_page(
        lambda: number_page.page(
            flow,
            say("Dispenser with acid"),
            say("g"),
            take,
            back=partial(show, flow, dispenser, back),
            gloves=True,
        )
    )


def show(flow: Flow, dispenser: Dispenser, back: Act) -> None:
    """Show the page."""
    flow.show_page(lambda: page(flow, dispenser, back))
