"""One page of a screen: what tells above, what acts below, and whole pages to turn between.

Nothing scrolls. Where the middle does not fit, it is parted into pages and a key of 20 mm
turns them, in the same place on every screen.
"""

from __future__ import annotations

from collections.abc import Sequence

from kivy.graphics import Color, Rectangle
from kivy.metrics import dp
from kivy.uix.widget import Widget

from fieldapp.screens.block import Block, Row
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.look import Look
from fieldapp.screens.theme import HAND, MARGIN, SPACE
from fieldapp.words import say


class Page(Widget):  # type: ignore[misc]  # Kivy has no types
    """A screen's page: `head` at the top, `middle` in pages, `foot` keys at the bottom.

    Without `turns` the middle is what may be left out: as much of it is shown as fits.
    `back` is what Android's back does here.
    """

    def __init__(
        self,
        look: Look,
        *,
        head: Sequence[Block] = (),
        middle: Sequence[Block] = (),
        foot: Sequence[Block] = (),
        gap: float = SPACE,
        back: Act | None = None,
        turns: bool = True,
        name: str = "",
    ) -> None:
        super().__init__(size_hint=(None, None))
        self.look = look
        self.back = back
        self.name = name
        self._head = tuple(head)
        self._middle = tuple(middle)
        self._foot = tuple(foot)
        self._gap = gap
        self._turns = turns
        self.at = 0
        self.pages: list[list[Block]] = [[]]
        with self.canvas.before:
            Color(*look.theme.ground)
            self._ground = Rectangle()

    def lay(self, x: float, y: float, width: float, height: float) -> None:
        """Set the page into a rectangle of the window, in pixels, anew."""
        self.pos, self.size = (x, y), (width, height)
        self._ground.pos, self._ground.size = self.pos, self.size
        self.clear_widgets()
        self.at = self.at if self._turns else 0
        left, inner = x + dp(MARGIN), width - dp(2 * MARGIN)
        top = self._set_head(left, y + height - dp(SPACE), inner)
        bottom, start = self._bottom(y, inner, turned=False)
        self.pages = self._paged(top - start, inner)
        if self._turns and len(self.pages) > 1:
            _, start = self._bottom(y, inner, turned=True)
            self.pages = self._paged(top - start, inner)
            self.at = min(self.at, len(self.pages) - 1)
            bottom, _ = self._bottom(y, inner, turned=True)
        for block in self.pages[self.at]:
            top -= block.height
            self._set(block, left, top)
            top -= dp(self._gap)
        for block, place in bottom:
            self._set(block, left, place)

    def turn(self) -> None:
        """Show the next page; after the last, the first."""
        self.at = (self.at + 1) % len(self.pages)
        self.lay(self.x, self.y, self.width, self.height)

    def _set(self, block: Block, x: float, y: float) -> None:
        if block.parent is not None:
            block.parent.remove_widget(block)
        self.add_widget(block)
        block.place(x, y)

    def _set_head(self, left: float, top: float, inner: float) -> float:
        for block in self._head:
            top -= block.fit(inner)
            self._set(block, left, top)
            top -= dp(SPACE)
        return top

    def _bottom(
        self, y: float, inner: float, *, turned: bool
    ) -> tuple[list[tuple[Block, float]], float]:
        """Return the foot with the places of its blocks, and where the middle may begin."""
        blocks = list(self._foot)
        for block in blocks:
            if block.parent is not None:
                block.parent.remove_widget(block)
        if turned:
            more = Key(
                self.look,
                say("More"),
                self.turn,
                under=[(say("{at} of {all}", at=self.at + 1, all=len(self.pages)), "small")],
                least=HAND,
            )
            if len(blocks) == 1 and inner >= dp(HAND * 2.4):
                blocks = [Row(self.look, [more, blocks[0]], SPACE, _beside(inner))]
            else:
                blocks.insert(0, more)
        place = y + dp(SPACE)
        placed: list[tuple[Block, float]] = []
        for block in reversed(blocks):
            block.fit(inner)
            placed.append((block, place))
            place += block.height + dp(SPACE)
        return placed, place

    def _paged(self, height: float, inner: float) -> list[list[Block]]:
        pages: list[list[Block]] = [[]]
        left = height
        for whole in self._middle:
            whole.fit(inner)
            for block in whole.parts(height):
                high = block.fit(inner)
                if pages[-1] and high > left:
                    pages.append([])
                    left = height
                pages[-1].append(block)
                left -= high + dp(self._gap)
        return pages


def _beside(inner: float) -> tuple[float, float]:
    turn = dp(HAND) + dp(2)
    return turn, inner - turn - dp(SPACE)
