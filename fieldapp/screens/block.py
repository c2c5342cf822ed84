"""The piece that pages are set from: it knows its height for a width, and can be parted."""

from __future__ import annotations

import re
from collections.abc import Sequence

from kivy.graphics import Color, Line, Rectangle
from kivy.metrics import dp
from kivy.uix.widget import Widget

from fieldapp.screens.letters import drawn, extents
from fieldapp.screens.look import Look
from fieldapp.screens.theme import Role, Size
from fieldapp.words import Phrase

_WORD = re.compile(r"\S+")
#: Where a word too wide for its line may go on in the next.
_JOINT = re.compile(r"(?<=[/.\-])(?=\w)")
_SMALLER: dict[Size, Size] = {"figure": "title", "title": "body", "body": "small"}


def _wide(word: str, type_size: float, bold: bool) -> float:
    return float(extents(word, type_size, bold)[0])


#: Stands for words that a key has no room for.
_LEFT_OUT = "…"


class Block(Widget):  # type: ignore[misc]  # Kivy has no types
    """A widget that sets its own size for a width, at once and without a layout pass."""

    x: float
    y: float
    width: float
    height: float
    pos: tuple[float, float]
    size: tuple[float, float]
    #: Whether what follows it belongs to it, so that no page's end comes between them.
    leads = False

    def __init__(self, look: Look) -> None:
        super().__init__(size_hint=(None, None))
        self.look = look

    def fit(self, width: float) -> float:
        """Take `width` pixels, size what is inside, and return the height needed."""
        self.size = (width, 0)
        return 0.0

    def place(self, x: float, y: float) -> None:
        """Stand with the lower left corner at x, y (pixels of the window)."""
        self.pos = (x, y)

    def parts(self, height: float) -> Sequence[Block]:
        """Return blocks no higher than `height` where it can be parted, else itself."""
        del height
        return (self,)


class Space(Block):
    """Empty height in dp."""

    def __init__(self, look: Look, height: float) -> None:
        super().__init__(look)
        self._height = height

    def fit(self, width: float) -> float:
        """Return the height in pixels."""
        self.size = (width, dp(self._height))
        return float(self.height)


class Words(Block):
    """Text in one of the four sizes, wrapped to its width and never cut.

    Where one of its words is wider than the line, all of it is set in the next smaller size; a
    word too wide even so, as an address of the web, is parted at its slashes, dots and hyphens.
    `spoken` is a part of what was said already, in place of `text`.

    It draws Kivy's text texture itself: a page has many texts, and a label widget for each
    would cost more than all the rest of the page.
    """

    def __init__(
        self,
        look: Look,
        text: Phrase | str,
        size: Size = "body",
        role: Role = "text",
        *,
        bold: bool = False,
        centred: bool = False,
        on_fill: bool = False,
        spoken: str | None = None,
    ) -> None:
        super().__init__(look)
        self._said = self.text = look.say(text) if spoken is None else spoken
        self._style: tuple[Size, Role, bool, bool, bool] = (size, role, bold, centred, on_fill)
        self._fitted: tuple[float, float, Size] | None = None
        with self.canvas:
            Color(*(look.theme.ground if on_fill else look.ink(role)))
            self._face = Rectangle()

    def resize(self, size: Size) -> None:
        """Be set in another of the four sizes from the next `fit` on."""
        self._style = (size, *self._style[1:])

    def fit(self, width: float) -> float:
        """Wrap to `width` pixels."""
        _, _, bold, centred, _ = self._style
        size = self._fitting(width)
        type_size = self.look.type_size(size)
        if self._fitted != (width, type_size, size):
            text = self._parted(width, size)
            self._face.texture = drawn(text, width, type_size, bold, centred)
            self.drawn = self._face.texture.size
            self._fitted = (width, type_size, size)
        self.size = (width, self.drawn[1])
        return float(self.height)

    def shorten(self) -> bool:
        """Leave the last word out; False where only one is left."""
        words = self.text.split()
        kept = words[: -2 if words[-1] == _LEFT_OUT else -1]
        if not kept:
            return False
        self.text, self._fitted = " ".join([*kept, _LEFT_OUT]), None
        return True

    def whole(self) -> None:
        """Say all words again."""
        if self.text != self._said:
            self.text, self._fitted = self._said, None

    def _fitting(self, width: float) -> Size:
        size = self._style[0]
        while size in _SMALLER and self.wide(size) > width:
            size = _SMALLER[size]
        return size

    def _parted(self, width: float, size: Size) -> str:
        """Return the text with its too wide words parted where that can be read."""
        if self.wide(size) <= width:
            return self.text
        bold, type_size = self._style[2], self.look.type_size(size)
        return _WORD.sub(
            lambda word: (
                _JOINT.sub(" ", word[0]) if _wide(word[0], type_size, bold) > width else word[0]
            ),
            self.text,
        )

    def breaks(self, width: float) -> bool:
        """Whether a single word in its own size is wider than `width`."""
        return self.wide(self._style[0]) > width

    @property
    def broken(self) -> bool:
        """Whether a single word breaks in itself, as it is set now."""
        size = self._fitting(self.width)
        bold, type_size = self._style[2], self.look.type_size(size)
        words = self._parted(self.width, size).split()
        return any(_wide(word, type_size, bold) > self.width for word in words)

    def wide(self, size: Size | None = None) -> float:
        """Return the width in pixels of the widest word, in its own size or another."""
        bold = self._style[2]
        type_size = self.look.type_size(size or self._style[0])
        return max((_wide(word, type_size, bold) for word in self.text.split()), default=0.0)

    def one_line(self) -> float:
        """Return the width in pixels that the whole text takes on one line."""
        size, _, bold, _, _ = self._style
        return _wide(self.text, self.look.type_size(size), bold) + 1

    def place(self, x: float, y: float) -> None:
        """Stand at x, y, on whole pixels so that the letters are sharp.

        In a row with something higher it stands in the middle of the height.
        """
        self.pos = (x, y)
        y += (self.height - self.drawn[1]) / 2
        left = x + (self.width - self.drawn[0]) / 2 if self._style[3] else x
        self._face.pos, self._face.size = (round(left), round(y)), self.drawn

    def parts(self, height: float) -> Sequence[Block]:
        """Part a long text between words."""
        width = self.width
        if self.fit(width) <= height:
            return (self,)
        found: list[Block] = []
        words = self.text.split()
        while words:
            # The most words that fit, found by halving: each trial sets a text.
            least, most = 1, len(words)
            while least < most:
                half = (least + most + 1) // 2
                if self._of(words[:half]).fit(width) <= height:
                    least = half
                else:
                    most = half - 1
            piece = self._of(words[:least])
            piece.fit(width)
            found.append(piece)
            words = words[least:]
        return found

    def _of(self, words: Sequence[str]) -> Words:
        """Return some of the words, set as all of them are."""
        size, role, bold, centred, on_fill = self._style
        return Words(
            self.look,
            "",
            size,
            role,
            bold=bold,
            centred=centred,
            on_fill=on_fill,
            spoken=" ".join(words),
        )


class Row(Block):
    """Blocks side by side with a gap in dp, as wide as their weights say, all equally high."""

    def __init__(
        self, look: Look, blocks: Sequence[Block], gap: float, weights: Sequence[float] = ()
    ) -> None:
        super().__init__(look)
        self.blocks = tuple(blocks)
        self._gap = gap
        self._weights = tuple(weights) or (1.0,) * len(self.blocks)
        for block in self.blocks:
            self.add_widget(block)

    def fit(self, width: float) -> float:
        """Share `width` out."""
        shared = width - dp(self._gap) * (len(self.blocks) - 1)
        total = sum(self._weights)
        height = 0.0
        for block, weight in zip(self.blocks, self._weights, strict=True):
            height = max(height, block.fit(shared * weight / total))
        for block in self.blocks:
            block.height = height
        self.size = (width, height)
        return height

    def place(self, x: float, y: float) -> None:
        """Stand at x, y."""
        self.pos = (x, y)
        for block in self.blocks:
            block.place(x, y)
            x += block.width + dp(self._gap)


class Ruled(Block):
    """A block with a filled or outlined rectangle: the square-cornered form of what acts."""

    def __init__(self, look: Look, role: Role, *, filled: bool) -> None:
        super().__init__(look)
        self._filled = filled
        with self.canvas.before:
            self._tint = Color(*(look.ink(role) if filled else look.theme.ground))
            self._face = Rectangle()
            if not filled:
                Color(*look.ink(role))
                self._edge = Line(width=dp(1.25))

    def draw(self) -> None:
        """Bring the rectangle under the block."""
        self._face.pos, self._face.size = self.pos, self.size
        if not self._filled:
            inset = dp(1.25)
            self._edge.rectangle = (
                self.x + inset,
                self.y + inset,
                self.width - 2 * inset,
                self.height - 2 * inset,
            )
