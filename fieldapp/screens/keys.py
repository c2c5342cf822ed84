"""What acts: keys with square corners, and the round's one large field."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from kivy.metrics import dp

from fieldapp.screens.block import Block, Ruled, Words
from fieldapp.screens.look import Look
from fieldapp.screens.sign import Sign
from fieldapp.screens.theme import FIELD, HAND, SPACE, Role, Size
from fieldapp.words import Phrase

Act = Callable[[], None]


class Key(Ruled):
    """A key: words, sometimes a sign, and more words under them. A tap calls `act`.

    Words that would break in themselves, and words in the middle of a key that would make it
    higher than the target size, are set small.

    `least` is the height in dp below which it never falls; it grows with its text. `Stage`
    finds the key under a finger and calls `press`, `release` and `act`.
    """

    def __init__(  # noqa: PLR0913  (how it looks, each by name)
        self,
        look: Look,
        text: Phrase | str,
        act: Act,
        *,
        under: Sequence[tuple[Phrase | str, Size]] = (),
        least: float = HAND,
        size: Size = "body",
        sign: Role | None = None,
        filled: bool = False,
        centred: bool = True,
    ) -> None:
        self.role: Role = sign or ("due" if filled else "text")
        super().__init__(look, "due" if filled else "text", filled=filled)
        self.act = act
        self.least = least
        self._centred = centred
        self._shrinks = size == "body"
        self._size: Size = size
        self._sign = Sign(look, sign, size, on_fill=filled) if sign else None
        self._all_lines = [Words(look, text, size, bold=True, centred=centred, on_fill=filled)] + [
            Words(look, words, small, bold=small == "figure", centred=centred, on_fill=filled)
            for words, small in under
        ]
        if self._sign is not None:
            self.add_widget(self._sign)
        self._lines: list[Words] = []
        self._show(len(self._all_lines))

    @property
    def text(self) -> str:
        """All that is written on the key, line under line."""
        return "\n".join(line.text for line in self._lines)

    def fit(self, width: float) -> float:
        """Wrap the words inside the edge; never lower than the target size."""
        high = self._fit(width, self._size)
        too_high = self._centred and high > dp(self.least)
        if self._shrinks and (too_high or self._lines[0].breaks(self._lines[0].width)):
            high = self._fit(width, "small")
        self.size = (width, max(dp(self.least), high))
        return float(self.height)

    def parts(self, height: float) -> Sequence[Block]:
        """Make a key that would be higher than a page lower; what it then leaves out leads to it.

        Its words are set small. Where that is not enough, all of them stand before the key, and
        the key has as many of the first of them as it has room for.
        """
        self._all_lines[0].whole()
        self._show(len(self._all_lines))
        if self._shrinks and self.fit(self.width) > height:
            self._size = "small"
        if self.fit(self.width) <= height:
            return (self,)
        before = [
            Words(self.look, "", "small", bold=at == 0, spoken=line.text)
            for at, line in enumerate(self._all_lines)
        ]
        for words in before:
            words.fit(self.width)
            words.leads = True
        self._show(1)
        while self.fit(self.width) > height and self._lines[0].shorten():
            pass
        return (*(part for words in before for part in words.parts(height)), self)

    def _show(self, count: int) -> None:
        for line in self._lines:
            self.remove_widget(line)
        self._lines = self._all_lines[:count]
        for line in self._lines:
            self.add_widget(line)

    def breaks(self, width: float) -> bool:
        """Whether a word would break in itself on a key of this width, even set small."""
        if self._shrinks:
            self._lines[0].resize("small")
        return any(line.breaks(_inside(width)) for line in self._lines)

    def _fit(self, width: float, size: Size) -> float:
        if self._shrinks:
            self._lines[0].resize(size)
        inner = _inside(width)
        if self._sign is not None:
            self._sign.fit(width)
            if not self._centred:
                inner -= self._sign.width + dp(SPACE)
        high: float = sum(line.fit(inner) for line in self._lines)
        if self._sign is not None and self._centred:
            high += self._sign.height + dp(SPACE / 2)
        return float(high + dp(2 * SPACE))

    def place(self, x: float, y: float) -> None:
        """Stand at x, y with the words in the middle of the height."""
        self.pos = (x, y)
        self.draw()
        high = sum(line.height for line in self._lines)
        left = x + dp(SPACE + 2)
        top = y + (self.height + high) / 2
        if self._sign is not None and self._centred:
            top += (self._sign.height + dp(SPACE / 2)) / 2
            self._sign.place(x + (self.width - self._sign.width) / 2, top - self._sign.height)
            top -= self._sign.height + dp(SPACE / 2)
        elif self._sign is not None:
            line = self._lines[0].look.type_size("body") * 1.36
            self._sign.place(left, top - (line + self._sign.height) / 2)
            left += self._sign.width + dp(SPACE)
        for words in self._lines:
            top -= words.height
            words.place(left, top)

    def press(self) -> None:
        """Answer a finger that comes down."""
        self.opacity = 0.6

    def release(self) -> None:
        """Answer a finger that lifts."""
        self.opacity = 1.0


def _inside(width: float) -> float:
    return float(width - dp(2 * SPACE + 4))


class BigField(Key):
    """The next hive: full width, 45 mm high, always in the same place. Its number is large."""

    def __init__(
        self,
        look: Look,
        number: Phrase | str,
        act: Act,
        *,
        above: Phrase | str,
        gets: Phrase | str,
        stop: Phrase | str | None = None,
    ) -> None:
        under: list[tuple[Phrase | str, Size]] = [(gets, "title")]
        if stop is not None:
            under.append((stop, "body"))
        super().__init__(
            look,
            above,
            act,
            under=[(number, "figure"), *under],
            least=FIELD,
            size="small",
            filled=True,
            sign="late" if stop is not None else None,
        )

    def fit(self, width: float) -> float:
        """Keep its height where it can: number and amount are set smaller where they are long."""
        number, gets = self._all_lines[1:3]
        number.resize("figure")
        if number.one_line() > _inside(width):
            number.resize("title")
        gets.resize("title")
        if super().fit(width) > dp(FIELD):
            gets.resize("body")
        return super().fit(width)
