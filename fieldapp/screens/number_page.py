"""A number in taps: ten keys, no keyboard; for the desk also one with a part after the point."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from fieldapp.screens.block import Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.look import Look
from fieldapp.screens.page import Page
from fieldapp.screens.parts import title
from fieldapp.screens.theme import DESK
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: dp: ten digit keys and two more fit a phone of 360 x 640 in rows of three.
DIGIT = 64
MOST = 3660
PLACES = 3
#: An answer that is no number: its words, and what it does.
Beside = tuple[Phrase, Act]


def page(
    flow: Flow,
    asked: Phrase,
    unit: Phrase,
    take: Callable[[int], None],
    *,
    back: Act,
    least: int = 0,
    most: float = MOST,
    besides: Sequence[Beside] = (),
) -> Page:
    """Return a page that asks for a whole number and calls `take` with it.

    It is `least` at least and `most` at most. `besides`, two at most, are answers that are no
    number; they stand there until a digit is tapped.
    """
    what = _Asked(flow, asked, unit, lambda text: take(int(text)), back)
    return _page(what._replace(least=least, most=most, besides=tuple(besides)), "")


def decimal_page(
    flow: Flow,
    asked: Phrase,
    unit: Phrase,
    take: Callable[[float], None],
    *,
    back: Act,
    most: float = MOST,
    besides: Sequence[Beside] = (),
) -> Page:
    """Return a page that asks for a number with a point, and calls `take` with it.

    It is `most` at most; `besides` is as in `page`.
    """
    what = _Asked(flow, asked, unit, lambda text: take(float(text)), back, point=True, most=most)
    return _page(what._replace(besides=tuple(besides)), "")


def degrees_page(flow: Flow, take: Callable[[float], None], *, back: Act) -> Page:
    """Return a page that asks for a temperature in the keeper's degrees; `take` gets degC."""
    if flow.look.speech.habits.degrees == "F":
        asked = _Asked(
            flow,
            say("What temperature?"),
            say("°F"),
            lambda text: take((int(text) - 32) / 1.8),
            back,
        )
    else:
        asked = _Asked(
            flow, say("What temperature?"), say("°C"), lambda text: take(float(text)), back
        )
    return _page(asked, "")


class _Asked(NamedTuple):
    """What is asked, and what takes the digits tapped."""

    flow: Flow
    asked: Phrase
    unit: Phrase
    take: Callable[[str], None]
    back: Act
    point: bool = False
    least: int = 0
    most: float = MOST
    besides: tuple[Beside, ...] = ()


def _page(what: _Asked, text: str) -> Page:
    look = what.flow.look

    def go_on(digits: str) -> None:
        if _fits(digits, what.most):
            tidy = digits.lstrip("0") or digits[-1:]
            what.flow.show_page(lambda: _page(what, f"0{tidy}" if tidy[:1] == "." else tidy))

    keys = [Key(look, digit, partial(go_on, text + digit), least=DIGIT) for digit in "123456789"]
    keys += [
        Key(look, say("Clear"), lambda: go_on(""), least=DIGIT),
        Key(look, "0", lambda: go_on(text + "0"), least=DIGIT),
        Key(look, say("Back"), what.back, least=DIGIT),
    ]
    if what.point:
        mark = look.speech.habits.decimal
        keys.append(Key(look, mark, lambda: go_on(f"{text or 0}."), least=DIGIT))
    acts = [Key(look, words, act, least=DESK, size="small") for words, act in what.besides]
    if text:
        acts = []
    if text and float(text) >= what.least:
        take = partial(what.take, text)
        acts = [Key(look, say("Take this"), take, least=DESK, filled=True)]
    shown = (
        say("{number} {unit}", number=_spoken(look, text), unit=what.unit)
        if text
        else say("tap the number: {unit}", unit=what.unit)
    )
    return Page(
        look,
        head=[title(look, what.asked), Words(look, shown, "title")],
        low_head=[Words(look, shown if text else what.asked, bold=True)],
        middle=[Grid(look, keys, least=90)],
        acts=acts,
        whole=True,
        name="number",
    )


def _fits(digits: str, most: float) -> bool:
    """Whether the digits are a number that is not too large, with one point at most."""
    whole, _, part = digits.partition(".")
    return int(whole or 0) <= most and "." not in part and len(part) <= PLACES


def _spoken(look: Look, text: str) -> str:
    return text.replace(".", look.speech.habits.decimal)
