"""One page of a screen: what tells above, what acts below, and whole pages to turn between.

Nothing scrolls. Where the middle does not fit, it is parted into pages and a key of 20 mm
turns them, in the same place on every screen.
"""

from __future__ import annotations

from collections.abc import Sequence

from kivy.metrics import dp
from kivy.uix.widget import Widget

from fieldapp.screens.block import Block, Row
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.look import Look
from fieldapp.screens.theme import APART, HAND, MARGIN, SPACE
from fieldapp.words import say


class Page(Widget):  # type: ignore[misc]  # Kivy has no types
    """A screen's page: `head` at the top, `middle` in pages, and what acts at the bottom.

    `acts` are the keys of the bottom row, two at most. `back` is what going back does here:
    the system's back, and a key, which stands in the bottom row where it has room and else at
    the end of the middle. A page with a `foot` of its own has neither key.
    What leads, as a heading, is not parted from what follows it.
    Where one of the acts goes back itself, `back_key` is false.
    Where the page is so low that a key of the middle has no room (or the middle, if it must be
    seen `whole`), `low_head` stands in place of `head`, and `low_tail` follows the middle. Without
    a `low_head` the first block of the head stays, and the others begin the middle; that is also
    done where a middle of several pages would have less than the height of a key.
    The acts stand `apart` by 3 mm where a slip between them would do harm. Where a key of the
    middle would have to be cut to leave them their height, all but the last end the middle.
    `fill` is one key that takes all the height between head and bottom, in place of a middle.
    Where it is to be tapped fast, `quick` has taps count that follow each other closely.
    `aid_key` is false where the key to first aid need not stand over the page.
    Without `turns` the middle is what may be left out: as much of it is shown as fits.
    A middle that `sinks` stands on what acts, near the thumb, and leaves its space above.
    `name` says which page it is.
    """

    def __init__(  # noqa: PLR0913  (the parts of a page, each by name)
        self,
        look: Look,
        *,
        name: str,
        head: Sequence[Block] = (),
        low_head: Sequence[Block] = (),
        middle: Sequence[Block] = (),
        low_tail: Sequence[Block] = (),
        acts: Sequence[Key] = (),
        foot: Sequence[Block] = (),
        back: Act | None = None,
        back_key: bool = True,
        apart: bool = False,
        turns: bool = True,
        whole: bool = False,
        sinks: bool = False,
        fill: Key | None = None,
        quick: bool = False,
        aid_key: bool = True,
    ) -> None:
        super().__init__(size_hint=(None, None))
        self.look = look
        self.name = name
        self.back = back
        self._has_back_key = back_key and back is not None
        parted = 1 if turns else len(head)
        self._heads = (tuple(head), tuple(low_head) or tuple(head[:parted]))
        self._low_lead = () if low_head else tuple(head[parted:])
        self._middle = tuple(middle)
        self._low_tail = tuple(low_tail)
        self._acts = tuple(acts)
        self._foot = tuple(foot)
        self._gap = APART if apart else SPACE
        self._turns = turns
        self._whole = whole
        self._sinks = sinks
        self._fill = fill
        self.quick = quick
        self.aid_key = aid_key
        self.at = 0
        self._top = self._floor = 0.0
        self._aside: tuple[Key, ...] = ()
        self._shown: list[Block] = []
        self.pages: list[list[Block]] = [[]]

    def lay(self, x: float, y: float, width: float, height: float, clear: float = 0) -> None:
        """Set the page into a rectangle of the window, in pixels, anew.

        No key of its middle stands in the uppermost `clear` pixels.
        """
        self.pos, self.size = (x, y), (width, height)
        self._aside = ()
        self.clear_widgets()
        left, inner = x + dp(MARGIN), width - dp(2 * MARGIN)
        _, floor = self._bottom(y, inner, turned=False)
        top = y + height - dp(SPACE)
        low = self._is_low(top - floor, clear, inner)
        top = self._set_head(left, top, inner, floor if not self._turns else None, low=low)
        top = min(top, y + height - clear)
        middle = [*self._low_lead, *self._middle, *self._low_tail] if low else [*self._middle]
        highest = _highest(middle, inner)
        self.pages = self._paged(middle, top - floor, inner)
        if self._turns and len(self.pages) > 1:
            _, floor = self._bottom(y, inner, turned=True)
            if highest > top - floor and len(self._acts) > 1:
                self._aside = self._acts[:-1]
                _, floor = self._bottom(y, inner, turned=True)
            middle += [_free(key) for key in self._aside]
            if self._acts and self._has_back_key and not self._back_beside(inner):
                middle.append(self._back_key())
            self.pages = self._paged(middle, top - floor, inner)
        self.at = min(self.at, len(self.pages) - 1) if self._turns else 0
        self._top, self._floor = top, floor
        self._show()

    def turn(self) -> None:
        """Show the next page; after the last, the first."""
        self.at = (self.at + 1) % len(self.pages)
        for block in self._shown:
            self.remove_widget(block)
        self._show()

    def _show(self) -> None:
        """Set the part of the middle that the page is at, and what stands under it."""
        left, inner = self.x + dp(MARGIN), self.width - dp(2 * MARGIN)
        top, floor = self._top, self._floor
        self._shown = []
        if self._sinks:
            shown = self.pages[self.at]
            top = min(top, floor + sum(block.height + dp(SPACE) for block in shown) - dp(SPACE))
        for block in self.pages[self.at]:
            if top - block.height < floor and not self._turns:
                break
            top -= block.height
            self._set(block, left, top)
            self._shown.append(block)
            top -= dp(SPACE)
        turned = self._turns and len(self.pages) > 1
        for block, place in self._bottom(self.y, inner, turned=turned)[0]:
            self._set(block, left, place)
            self._shown.append(block)
        if self._fill is not None:
            self._fill.fit(inner)
            self._fill.height = top - floor
            self._set(self._fill, left, floor)

    def _set(self, block: Block, x: float, y: float) -> None:
        _free(block)
        self.add_widget(block)
        block.place(x, y)

    def _is_low(self, height: float, clear: float, inner: float) -> bool:
        head = sum(block.fit(inner) + dp(SPACE) for block in self._heads[0])
        height -= max(head, clear - dp(SPACE))
        highs = [block.fit(inner) for block in self._middle]
        if self._whole:
            return bool(sum(high + dp(SPACE) for high in highs) > height)
        if height < dp(HAND) and sum(highs) > height:
            return True
        return height < 0 or _highest(self._middle, inner) > height

    def _set_head(
        self, left: float, top: float, inner: float, floor: float | None, *, low: bool
    ) -> float:
        """Set the head from `top` down; where the page cannot turn, as much as ends on `floor`."""
        for whole in self._heads[low]:
            high, block = whole.fit(inner), whole
            if floor is not None and top - high < floor:
                block = whole.parts(top - floor)[0]
            top -= block.fit(inner)
            self._set(block, left, top)
            top -= dp(SPACE)
        return top

    def _bottom(
        self, y: float, inner: float, *, turned: bool
    ) -> tuple[list[tuple[Block, float]], float]:
        """Return the bottom's blocks with their places, and where the middle may end."""
        place = y + dp(SPACE)
        placed: list[tuple[Block, float]] = []
        for block in reversed(self._rows(inner, turned=turned)):
            block.fit(inner)
            placed.append((block, place))
            place += block.height + dp(self._gap)
        return placed, place

    def _rows(self, inner: float, *, turned: bool) -> list[Block]:
        if self._foot:
            return [_free(block) for block in self._foot]
        acts = [_free(key) for key in self._acts[len(self._aside) :]]
        if turned:
            first = [self._more_key()]
            if self._has_back_key and (not acts or self._back_beside(inner)):
                first.append(self._back_key())
        else:
            first = [self._back_key()] if self._has_back_key else []
        if self._beside(acts, len(first), inner):
            return [Row(self.look, [*first, *acts], self._gap)] if first or acts else []
        return [*first, Row(self.look, acts, self._gap)]

    def _back_beside(self, inner: float) -> bool:
        """Whether the bottom row has room for a key back between *More* and what acts."""
        return self._beside(self._acts[len(self._aside) :], 2, inner)

    def _beside(self, acts: Sequence[Key], others: int, inner: float) -> bool:
        """Whether one row has room for so many other keys and what acts, each word whole."""
        number = max(1, others + len(acts))
        wide = (inner - dp(self._gap) * (number - 1)) / number
        return wide >= dp(HAND) and not any(key.breaks(wide) for key in acts)

    def _more_key(self) -> Key:
        at = say("{at} of {all}", at=self.at + 1, all=len(self.pages))
        return Key(self.look, say("More"), self.turn, under=[(at, "small")])

    def _back_key(self) -> Key:
        return Key(self.look, say("Back"), self.back or self.turn)

    def _paged(self, middle: Sequence[Block], height: float, inner: float) -> list[list[Block]]:
        pages: list[list[Block]] = [[]]
        left = height
        for group in _groups(middle):
            for whole in group:
                whole.fit(inner)
            blocks = [part for whole in group for part in whole.parts(height)]
            highs = [block.fit(inner) for block in blocks]
            together = sum(highs) + dp(SPACE) * (len(highs) - 1)
            if pages[-1] and left < together <= height:
                pages.append([])
                left = height
            for block, high in zip(blocks, highs, strict=True):
                if pages[-1] and high > left:
                    pages.append([])
                    left = height
                pages[-1].append(block)
                left -= high + dp(SPACE)
        return pages


def _groups(blocks: Sequence[Block]) -> list[list[Block]]:
    """Return the blocks with each that leads beside what follows it."""
    groups: list[list[Block]] = []
    leads = False
    for block in blocks:
        if leads:
            groups[-1].append(block)
        else:
            groups.append([block])
        leads = block.leads
    return groups


def _rows(block: Block) -> Sequence[Block]:
    """Return what acts and cannot be parted: a key, a row of them, or those of a fitted grid."""
    if isinstance(block, Grid):
        return block.parts(block.height)
    if isinstance(block, Row):
        return (block,) if any(isinstance(each, Key) for each in block.blocks) else ()
    return (block,) if isinstance(block, Key) else ()


def _highest(blocks: Sequence[Block], inner: float) -> float:
    """Return the height of the highest of what acts and cannot be parted."""
    return max((row.fit(inner) for each in blocks for row in _rows(each)), default=0.0)


def _free(block: Block) -> Block:
    """Take a block from where it stood, so that it can stand elsewhere."""
    if block.parent is not None:
        block.parent.remove_widget(block)
    return block
