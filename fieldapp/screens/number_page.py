"""A number in taps: ten keys near the thumb, no keyboard; with a point or a minus where needed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from fieldapp.screens.block import Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.look import Look
from fieldapp.screens.page import Page
from fieldapp.screens.parts import main_key, title
from fieldapp.screens.theme import DESK, HAND, Size
from fieldapp.words import Phrase, counted, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: dp: ten digit keys and two more fit a phone of 360 x 640 in rows of three.
DIGIT = 64
ACROSS = 90
MOST = 3660
PLACES = 3
#: Stands for the number while none is tapped: then the unit is said of several.
_SEVERAL = 2.0
#: degC that a record of what was measured can hold.
COLDEST, HOTTEST = -20, 500
#: An answer that is no number: its words, and what it does.
Beside = tuple[Phrase, Act]


def page(  # noqa: PLR0913  (what is asked, each by name)
    flow: Flow,
    asked: Phrase,
    unit: Phrase | str,
    take: Callable[[int], None],
    *,
    back: Act,
    least: int = 0,
    most: float = MOST,
    besides: Sequence[Beside] = (),
    gloves: bool = False,
) -> Page:
    """Return a page that asks for a whole number and calls `take` with it.

    It is `least` at least and `most` at most. `besides`, two at most, are answers that are no
    number; they stand there until a digit is tapped. Where it is met with `gloves` on, its keys
    are 20 mm.
    """
    what = _Asked(flow, asked, unit, lambda text: take(int(text)), back, gloves=gloves)
    return _page(what._replace(least=least, most=most, besides=tuple(besides)), "")


def decimal_page(  # noqa: PLR0913  (what is asked, each by name)
    flow: Flow,
    asked: Phrase,
    unit: Phrase | str,
    take: Callable[[float], None],
    *,
    back: Act,
    least: float = 0,
    most: float = MOST,
    besides: Sequence[Beside] = (),
    gloves: bool = False,
) -> Page:
    """Return a page that asks for a number with a point, and calls `take` with it.

    All else is as in `page`; it has a minus where `least` is below zero.
    """
    what = _Asked(flow, asked, unit, lambda text: take(float(text)), back, point=True)
    what = what._replace(least=least, most=most, besides=tuple(besides), gloves=gloves)
    return _page(what, "")


def degrees_page(
    flow: Flow, take: Callable[[float], None], *, back: Act, gloves: bool = False
) -> Page:
    """Return a page that asks for a temperature in the keeper's degrees; `take` gets degC."""
    what = _Asked(
        flow,
        say("What temperature?"),
        say("°C"),
        lambda text: take(float(text)),
        back,
        least=COLDEST,
        most=HOTTEST,
        gloves=gloves,
    )
    if flow.look.speech.habits.degrees == "F":
        what = what._replace(
            unit=say("°F"),
            take=lambda text: take((int(text) - 32) / 1.8),
            least=COLDEST * 1.8 + 32,
            most=HOTTEST * 1.8 + 32,
        )
    return _page(what, "")


class _Asked(NamedTuple):
    """What is asked, and what takes the digits tapped."""

    flow: Flow
    asked: Phrase
    unit: Phrase | str
    take: Callable[[str], None]
    back: Act
    point: bool = False
    least: float = 0
    most: float = MOST
    besides: tuple[Beside, ...] = ()
    gloves: bool = False


def _page(what: _Asked, text: str) -> Page:
    look = what.flow.look

    def go_on(typed: str) -> None:
        if _fits(typed, what):
            at = what.flow.stage.page.at if what.flow.stage.page is not None else 0
            what.flow.show_page(lambda: _on(_page(what, _tidy(typed)), at))

    number = float(text) if _is_number(text) else _SEVERAL
    acts = [Key(look, words, act, least=DESK, size="small") for words, act in what.besides]
    if text:
        acts = []
    if _is_number(text) and number >= what.least:
        take = partial(what.take, text)
        acts = [main_key(look, say("Take this"), take)]
    shown = (
        say("{number} {unit}", number=_spoken(look, text), unit=counted(what.unit, number))
        if text
        else say("tap the number: {unit}", unit=counted(what.unit, number))
    )
    return Page(
        look,
        head=[title(look, what.asked), Words(look, shown, "title")],
        low_head=[Words(look, shown if text else what.asked, bold=True)],
        middle=[Grid(look, _keys(what, text, go_on), HAND if what.gloves else ACROSS, most=3)],
        acts=acts,
        back=what.back,
        whole=True,
        sinks=True,
        name="number in gloves" if what.gloves else "number",
    )


def _keys(what: _Asked, text: str, go_on: Callable[[str], None]) -> list[Key]:
    look, least = what.flow.look, HAND if what.gloves else DIGIT

    def key(sign: str, typed: str) -> Key:
        size: Size = "title" if what.gloves else "body"
        return Key(look, sign, partial(go_on, typed), least=least, size=size)

    keys = [key(digit, text + digit) for digit in "123456789"]
    keys += [Key(look, say("Clear"), lambda: go_on(""), least=least), key("0", text + "0")]
    # A minus comes first and a point never does: one key is enough for both.
    if what.least < 0 and (not what.point or text in ("", "-")):
        keys.append(key("-", text[1:] if text.startswith("-") else f"-{text}"))
    elif what.point:
        keys.append(key(look.speech.habits.decimal, f"{text or 0}."))
    return keys


def _on(page: Page, at: int) -> Page:
    """Return a page turned to where the one before it was, for the next digit may stand there."""
    page.at = at
    return page


def _tidy(typed: str) -> str:
    """Return what was typed without zeros that say nothing, and with one before a point."""
    sign, digits = ("-", typed[1:]) if typed.startswith("-") else ("", typed)
    bare = digits.lstrip("0") or digits[-1:]
    return f"{sign}0{bare}" if bare[:1] == "." else sign + bare


def _is_number(text: str) -> bool:
    return text not in ("", "-")


def _fits(typed: str, what: _Asked) -> bool:
    """Whether what was typed is a number in its bounds, or can become one, with one point."""
    whole, _, part = typed.removeprefix("-").partition(".")
    most = -what.least if typed.startswith("-") else what.most
    return int(whole or 0) <= most and "." not in part and len(part) <= PLACES


def _spoken(look: Look, text: str) -> str:
    return text.replace(".", look.speech.habits.decimal)
