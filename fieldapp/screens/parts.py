"""Small pieces that several pages share."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from kivy.metrics import dp

from fieldapp.husbandry.spoken import unsourced
from fieldapp.rounds.told import Told
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.look import Look
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, HAND, SPACE, Role
from fieldapp.words import Phrase, count

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class Together(Block):
    """Blocks under each other that stay on one page where a page has the height for them."""

    def __init__(self, look: Look, blocks: Sequence[Block]) -> None:
        super().__init__(look)
        self._blocks = tuple(blocks)

    def fit(self, width: float) -> float:
        """Stand the blocks under each other, half a space between them."""
        high = 0.0
        for block in self._blocks:
            if block.parent is not self:
                if block.parent is not None:
                    block.parent.remove_widget(block)
                self.add_widget(block)
            high += block.fit(width) + dp(SPACE / 2)
        self.size = (width, high - dp(SPACE / 2))
        return float(self.height)

    def place(self, x: float, y: float) -> None:
        """Stand with the lower left corner at x, y."""
        self.pos = (x, y)
        top = y + self.height
        for block in self._blocks:
            top -= block.height
            block.place(x, top)
            top -= dp(SPACE / 2)

    def parts(self, height: float) -> Sequence[Block]:
        """Return the blocks one by one where they are too high together."""
        if self.height <= height:
            return (self,)
        self.clear_widgets()
        return [part for block in self._blocks for part in block.parts(height)]


def title(look: Look, text: Phrase | str) -> Words:
    """Return the title of a page."""
    return Words(look, text, "title", bold=True)


def heading(look: Look, text: Phrase | str) -> Words:
    """Return a heading inside a page."""
    words = Words(look, text, "body", bold=True)
    words.leads = True
    return words


def line(look: Look, role: Role, text: Phrase | str, why: Sequence[Phrase] = ()) -> list[Block]:
    """Return a line that tells, with its reasons small under it."""
    return under(Tell(look, role, text), [Words(look, each, "small", "quiet") for each in why])


def under(block: Block, words: Sequence[Block]) -> list[Block]:
    """Return a block with words under it, of which the first is never parted from it."""
    block.leads = bool(words)
    return [block, *words]


def briefly(look: Look, told: Told) -> list[Block]:
    """Return a line with the first of its reasons, whose source stands elsewhere."""
    return line(look, told.sign, told.words, [unsourced(each) for each in told.why[:1]])


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


def passed_of(passed: int, hives: int) -> Phrase:
    """Return how far a round is: *3 of 12 hives*."""
    return count("{passed} of {n} hive", "{passed} of {n} hives", hives, passed=passed)


def shown_after(flow: Flow, act: Act) -> Act:
    """Return an act after which the page in sight is shown anew, where it was."""

    def acted() -> None:
        act()
        flow.again()

    return acted
