"""Small pieces that several pages share."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.look import Look
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, HAND, Role
from fieldapp.words import Phrase

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def title(look: Look, text: Phrase | str) -> Words:
    """Return the title of a page."""
    return Words(look, text, "title", bold=True)


def heading(look: Look, text: Phrase | str) -> Words:
    """Return a heading inside a page."""
    return Words(look, text, "body", bold=True)


def line(look: Look, role: Role, text: Phrase | str, why: Sequence[Phrase] = ()) -> list[Block]:
    """Return a line that tells, with its reasons small under it."""
    return [Tell(look, role, text), *(Words(look, each, "small", "quiet") for each in why)]


def desk_key(
    look: Look,
    text: Phrase | str,
    act: Act,
    *,
    under: Phrase | str | None = None,
    sign: Role | None = None,
) -> Key:
    """Return a key for the desk: a line of its own, words to the left."""
    return Key(
        look,
        text,
        act,
        under=[(under, "small")] if under is not None else (),
        least=DESK,
        sign=sign,
        centred=False,
    )


def main_key(look: Look, text: Phrase | str, act: Act) -> Key:
    """Return the one act of a page: large, filled, at the bottom."""
    return Key(look, text, act, least=HAND, filled=True)


def shown_after(flow: Flow, act: Act) -> Act:
    """Return an act after which the page in sight is shown anew, where it was."""

    def acted() -> None:
        act()
        flow.again()

    return acted
