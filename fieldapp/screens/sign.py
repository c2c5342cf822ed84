"""The six signs, drawn as shapes so that none depends on a font or on colour alone."""

from __future__ import annotations

import math

from kivy.graphics import Color, Ellipse, Line, Mesh, Rectangle
from kivy.metrics import dp

from fieldapp.screens.block import Block
from fieldapp.screens.look import Look
from fieldapp.screens.theme import Role, Size


class Sign(Block):
    """One sign, as high as the text size it stands beside.

    Filled disc: done, clear, suits. Filled square: due, next. Triangle: late, stop. Hatched
    bar: closed, exposed. Ring: waiting, past. Open diamond: not known, a question.
    """

    def __init__(
        self, look: Look, role: Role, size: Size = "body", *, on_fill: bool = False
    ) -> None:
        super().__init__(look)
        self.role = role
        self._size: Size = size
        self._colour = look.theme.ground if on_fill else look.ink(role)

    def fit(self, width: float) -> float:
        """Take the height of a text line; the width given is not used."""
        del width
        side = self.look.type_size(self._size) * 0.9
        self.size = (side, side)
        return side

    def place(self, x: float, y: float) -> None:
        """Draw at x, y."""
        self.pos = (x, y)
        side = self.width
        self.canvas.clear()
        with self.canvas:
            Color(*self._colour)
            self._draw(x, y, side)

    def _draw(self, x: float, y: float, side: float) -> None:
        thick = max(dp(1.5), side * 0.07)
        if self.role == "done":
            Ellipse(pos=(x, y), size=(side, side))
        elif self.role == "due":
            inset = side * 0.06
            Rectangle(pos=(x + inset, y + inset), size=(side - 2 * inset, side - 2 * inset))
        elif self.role == "late":
            corners = [(x, y), (x + side, y), (x + side / 2, y + side)]
            Mesh(
                vertices=[value for px, py in corners for value in (px, py, 0, 0)],
                indices=[0, 1, 2],
                mode="triangles",
            )
        elif self.role == "closed":
            self._hatched(x, y, side, thick)
        elif self.role in ("quiet", "text"):
            radius = side / 2 - thick
            Line(circle=(x + side / 2, y + side / 2, radius, 0, 360, 72), width=thick)
        else:
            half = side / 2 - thick
            middle_x, middle_y = x + side / 2, y + side / 2
            Line(
                points=[
                    *(middle_x - half, middle_y),
                    *(middle_x, middle_y + half),
                    *(middle_x + half, middle_y),
                    *(middle_x, middle_y - half),
                ],
                close=True,
                width=thick,
            )

    @staticmethod
    def _hatched(x: float, y: float, side: float, thick: float) -> None:
        bottom, high = y + side * 0.15, side * 0.7
        Line(rectangle=(x + thick, bottom, side - 2 * thick, high), width=thick * 0.6)
        step = side / 4
        for index in range(math.ceil(side / step)):
            left = x + index * step
            rise = min(high, x + side - left)
            Line(points=[left, bottom, left + rise, bottom + rise], width=thick * 0.6)
