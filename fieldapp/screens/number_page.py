"""A whole number in taps: ten keys, no keyboard."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.screens.block import Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import title
from fieldapp.screens.theme import DESK
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: dp: ten digit keys and two more fit a phone of 360 x 640 in rows of three.
DIGIT = 64
MOST = 3660


def page(
    flow: Flow,
    asked: Phrase,
    unit: Phrase,
    take: Callable[[int], None],
    *,
    back: Act,
    text: str = "",
) -> Page:
    """Return a page that asks for a whole number and calls `take` with it."""
    look = flow.look

    def go_on(digits: str) -> None:
        if int(digits or 0) <= MOST:
            flow.show_page(
                lambda: page(flow, asked, unit, take, back=back, text=digits.lstrip("0") or digits)
            )

    keys = [Key(look, digit, partial(go_on, text + digit), least=DIGIT) for digit in "123456789"]
    keys += [
        Key(look, say("Clear"), lambda: go_on(""), least=DIGIT),
        Key(look, "0", lambda: go_on(text + "0"), least=DIGIT),
        Key(look, say("Back"), back, least=DIGIT),
    ]
    acts = []
    if text:
        acts.append(Key(look, say("Take this"), lambda: take(int(text)), least=DESK, filled=True))
    shown = say("{number} {unit}", number=int(text), unit=unit) if text else say("tap the number")
    return Page(
        look,
        head=[title(look, asked), Words(look, shown, "title")],
        low_head=[Words(look, shown if text else asked, bold=True)],
        middle=[Grid(look, keys, least=90)],
        acts=acts,
        whole=True,
        name="number",
    )
