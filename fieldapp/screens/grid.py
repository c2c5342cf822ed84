"""Keys in rows of equal squares, as many to a row as stay 20 mm wide and keep words whole."""

from __future__ import annotations

from collections.abc import Sequence

from kivy.metrics import dp

from fieldapp.screens.block import Block, Row
from fieldapp.screens.keys import Key
from fieldapp.screens.look import Look
from fieldapp.screens.theme import HAND, SPACE


class Grid(Block):
    """Keys side by side, `most` to a row. It is parted between rows: a page holds whole rows."""

    def __init__(
        self, look: Look, keys: Sequence[Key], least: float = HAND, most: int | None = None
    ) -> None:
        super().__init__(look)
        self._keys = tuple(keys)
        self._least = least
        self._most = most or len(self._keys)

    def fit(self, width: float) -> float:
        """Return the height of all rows at `width` pixels."""
        self.size = (width, sum(row.fit(width) + dp(SPACE) for row in self._rows(width)))
        return float(self.height)

    def parts(self, height: float) -> Sequence[Block]:
        """Return the rows."""
        del height
        return self._rows(self.width)

    def _rows(self, width: float) -> list[Block]:
        across = max(1, min(self._most, int((width + dp(SPACE)) // dp(self._least + SPACE))))
        while across > 1 and any(key.breaks(_share(width, across)) for key in self._keys):
            across -= 1
        rows: list[Block] = []
        for start in range(0, len(self._keys), across):
            keys: list[Block] = list(self._keys[start : start + across])
            for key in keys:
                if key.parent is not None:
                    key.parent.remove_widget(key)
            keys += [Block(self.look) for _ in range(across - len(keys))]
            rows.append(Row(self.look, keys, SPACE))
        return rows


def _share(width: float, across: int) -> float:
    return float((width - dp(SPACE) * (across - 1)) / across)
