"""Hives by methods in one table: a sign where they meet, with the hive's number above it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from kivy.metrics import dp

from fieldapp.rounds.options import Method
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Key
from fieldapp.screens.look import Look
from fieldapp.screens.parts import desk_key
from fieldapp.screens.sign import Sign
from fieldapp.screens.theme import SPACE, Role

Chosen = Callable[[str], Callable[[], None]]


class Table(Block):
    """Methods down, hives across. A tap on a method calls what `chosen` gives for it.

    Where the hives do not fit side by side the table goes on below itself with the others,
    and where it is higher than a page it is parted between rows, each part under its numbers.
    """

    def __init__(
        self, look: Look, numbers: Sequence[str], methods: Sequence[Method], chosen: Chosen
    ) -> None:
        super().__init__(look)
        self._numbers = tuple(numbers)
        self._methods = tuple(methods)
        self._chosen = chosen
        self._cell = 0.0
        self._made: tuple[float, list[tuple[Sequence[str], list[_Row]]]] | None = None

    def fit(self, width: float) -> float:
        """Return the height of the whole table at `width` pixels."""
        high = 0.0
        for numbers, rows in self._blocks(width):
            high += _Sheet(self.look, numbers, rows, self._cell).fit(width) + dp(SPACE)
        self.size = (width, high)
        return high

    def parts(self, height: float) -> Sequence[Block]:
        """Return sheets that are each no higher than `height`, where a row alone is not."""
        width = self.width
        sheets: list[Block] = []
        for numbers, rows in self._blocks(width):
            held: list[_Row] = []
            left = height
            head = _Sheet(self.look, numbers, (), self._cell).fit(width)
            for row in rows:
                if said := row.shrink(width, height - head - dp(SPACE)):
                    sheets += [*self._flushed(numbers, held), *said]
                    held = []
                high = row.fit(width) + dp(SPACE)
                if held and high > left:
                    sheets += self._flushed(numbers, held)
                    held = []
                if not held:
                    left = height - head
                held.append(row)
                left -= high
            sheets += self._flushed(numbers, held)
        return sheets

    def _flushed(self, numbers: Sequence[str], held: Sequence[_Row]) -> list[Block]:
        return [_Sheet(self.look, numbers, held, self._cell)] if held else []

    def _blocks(self, width: float) -> list[tuple[Sequence[str], list[_Row]]]:
        """Return hives that stand side by side, with the rows under them; made once a width."""
        if self._made is None or self._made[0] != width:
            self._cell = _cell(self.look, self._numbers)
            across = max(1, int(width // self._cell))
            found: list[tuple[Sequence[str], list[_Row]]] = []
            for first in range(0, len(self._numbers), across):
                columns = slice(first, first + across)
                rows = [
                    _Row(self.look, each, columns, self._cell, self._chosen(each.treatment))
                    for each in self._methods
                ]
                found.append((self._numbers[columns], rows))
            self._made = (width, found)
        return self._made[1]


def _cell(look: Look, numbers: Sequence[str]) -> float:
    """Return the width in pixels of one hive's column."""
    widest = max((Words(look, number, "small").wide() for number in numbers), default=0.0)
    return float(max(widest, look.type_size("body")) + dp(SPACE))


class _Row(Block):
    """One method: its key, and under it a sign for each hive."""

    def __init__(
        self, look: Look, method: Method, columns: slice, cell: float, act: Callable[[], None]
    ) -> None:
        super().__init__(look)
        self._cell = cell
        self.key: Key = desk_key(look, method.name, act, under=method.words, sign=method.sign)
        self.signs = [Sign(look, each.sign, "body") for each in method.cells[columns]]
        self.add_widget(self.key)
        for sign in self.signs:
            self.add_widget(sign)

    def fit(self, width: float) -> float:
        """Fit the key to the width, the signs under it."""
        high = max((sign.fit(width) for sign in self.signs), default=0.0)
        self.size = (width, self.key.fit(width) + dp(SPACE) + high)
        return float(self.height)

    def shrink(self, width: float, height: float) -> list[Block]:
        """Make the key lower where the row would be higher than `height`.

        Return what then has to stand before it.
        """
        beside = self.fit(width) - self.key.height
        return [part for part in self.key.parts(height - beside) if part is not self.key]

    def place(self, x: float, y: float) -> None:
        """Stand with each sign in the middle of its column."""
        self.pos = (x, y)
        for column, sign in enumerate(self.signs):
            sign.place(x + self._cell * column + (self._cell - sign.width) / 2, y)
        self.key.place(x, y + self.height - self.key.height)


class _Sheet(Block):
    """A part of the table under the numbers of its hives."""

    def __init__(
        self, look: Look, numbers: Sequence[str], rows: Sequence[_Row], cell: float
    ) -> None:
        super().__init__(look)
        self._cell = cell
        role: Role = "text"
        self._head = [Words(look, each, "small", role, bold=True, centred=True) for each in numbers]
        self._rows = tuple(rows)
        for word in self._head:
            self.add_widget(word)

    def fit(self, width: float) -> float:
        """Stand the numbers over the rows."""
        high = max((word.fit(self._cell) for word in self._head), default=0.0)
        high += sum(row.fit(width) + dp(SPACE) for row in self._rows)
        self.size = (width, high)
        return float(high)

    def place(self, x: float, y: float) -> None:
        """Stand at x, y."""
        self.pos = (x, y)
        top = y + self.height
        for column, word in enumerate(self._head):
            word.place(x + self._cell * column, top - word.height)
        top -= max((word.height for word in self._head), default=0.0) + dp(SPACE / 2)
        for row in self._rows:
            if row.parent is not self:
                if row.parent is not None:
                    row.parent.remove_widget(row)
                self.add_widget(row)
            top -= row.height
            row.place(x, top)
            top -= dp(SPACE)
