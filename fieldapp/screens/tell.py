"""What only tells: a sign and words, without an edge, so that nobody taps it."""

from __future__ import annotations

from collections.abc import Sequence

from kivy.metrics import dp

from fieldapp.screens.block import Block, Words
from fieldapp.screens.look import Look
from fieldapp.screens.sign import Sign
from fieldapp.screens.theme import SPACE, Role, Size
from fieldapp.words import Phrase


class Tell(Block):
    """A sign with its words beside it; the words are spoken in the sign's colour."""

    def __init__(
        self,
        look: Look,
        role: Role,
        text: Phrase | str,
        size: Size = "body",
        *,
        bold: bool = False,
        signed: bool = True,
        spoken: str | None = None,
    ) -> None:
        super().__init__(look)
        self.role = role
        self._style: tuple[Size, bool] = (size, bold)
        self._sign = Sign(look, role, size)
        self._signed = signed
        self.words = Words(look, text, size, role, bold=bold, spoken=spoken)
        if signed:
            self.add_widget(self._sign)
        self.add_widget(self.words)

    def fit(self, width: float) -> float:
        """Leave the sign its width, wrap the words in the rest."""
        indent = self._sign.fit(width) and self._sign.width + dp(SPACE)
        self.size = (width, self.words.fit(width - indent))
        return float(self.height)

    def place(self, x: float, y: float) -> None:
        """Stand with the sign on the first line of the words."""
        self.pos = (x, y)
        line = self.look.type_size(self._style[0]) * 1.36
        top = y + self.height - (line + self._sign.height) / 2
        self._sign.place(x, top)
        self.words.place(x + self._sign.width + dp(SPACE), y)

    def parts(self, height: float) -> Sequence[Block]:
        """Part the words; the sign stands with the first of them."""
        pieces = self.words.parts(height)
        if len(pieces) == 1:
            return (self,)
        size, bold = self._style
        return tuple(
            Tell(self.look, self.role, "", size, bold=bold, signed=first, spoken=piece.text)
            for first, piece in zip([True] + [False] * len(pieces), pieces, strict=False)
            if isinstance(piece, Words)
        )
