"""Temperature against distance from a nozzle, for slow and for fast strokes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Mesh, Rectangle
from kivy.metrics import dp

from fieldapp.husbandry.standoff import Heat
from fieldapp.screens.block import Block, Words
from fieldapp.screens.look import Look
from fieldapp.screens.theme import SPACE, Role

#: dp of the picture's height, and of a point.
HIGH, POINT = 200, 12

Said = Callable[[float], str]


class HeatPicture(Block):
    """Fast strokes as squares, slow ones as rings, *liquid spat* as triangles; a line for a limit.

    `degrees` and `length` say a temperature and a distance in the keeper's units.
    """

    def __init__(
        self,
        look: Look,
        heats: Sequence[Heat],
        limit: float | None,
        degrees: Said,
        length: Said,
    ) -> None:
        super().__init__(look)
        self._heats = tuple(heats)
        self._limit = limit
        shown = [each.temperature for each in heats] + ([] if limit is None else [limit])
        self._top, self._low = max(shown), min(shown)
        self._far = max(each.distance for each in heats)
        self._side = [Words(look, degrees(each), "small", "quiet") for each in self._levels()]
        distances = sorted({each.distance for each in heats})
        self._foot = [(each, Words(look, length(each), "small", "quiet")) for each in distances]
        for words in (*self._side, *(words for _, words in self._foot)):
            self.add_widget(words)
        self._drawn = InstructionGroup()
        self.canvas.add(self._drawn)

    def _levels(self) -> list[float]:
        """Return the temperatures that are named: the highest and the lowest."""
        return [self._top] if self._top == self._low else [self._top, self._low]

    def fit(self, width: float) -> float:
        """Keep a margin for the temperatures at the left, and one line for the distances."""
        for words in (*self._side, *(words for _, words in self._foot)):
            words.fit(words.one_line())
        self._text = self._side[0].height
        self._left = max(words.width for words in self._side) + dp(SPACE)
        self.size = (width, dp(HIGH) + 2 * self._text + dp(SPACE))
        return float(self.height)

    def place(self, x: float, y: float) -> None:
        """Draw at x, y."""
        self.pos = (x, y)
        self._drawn.clear()
        for level, words in zip(self._levels(), self._side, strict=True):
            words.place(x, self._at_degrees(level) - words.height / 2)
        ends = float("-inf")
        for distance, words in self._foot:
            left = self._at_length(distance) - words.width / 2
            left = min(max(left, x + self._left), x + self.width - words.width)
            words.opacity = 1.0 if left >= ends else 0.0
            words.place(left, y)
            if left >= ends:
                ends = left + words.width + dp(SPACE)
        self._axes()
        for pace in ("slow", "fast"):
            self._row(pace)

    def _axes(self) -> None:
        low, left = self.y + self._text + dp(SPACE / 2), self.x + self._left
        self._ink("quiet")
        self._drawn.add(Line(points=[left, self.top, left, low, self.right, low], width=dp(1)))
        if self._limit is not None:
            level = self._at_degrees(self._limit)
            self._ink("late")
            self._drawn.add(
                Line(points=[left, level, self.right, level], width=dp(1), dash_length=dp(6))
            )

    def _row(self, pace: str) -> None:
        row = sorted(
            (each for each in self._heats if each.pace == pace), key=lambda each: each.distance
        )
        role: Role = "due" if pace == "fast" else "text"
        points = [
            value
            for each in row
            for value in (self._at_length(each.distance), self._at_degrees(each.temperature))
        ]
        self._ink(role)
        if len(row) > 1:
            self._drawn.add(Line(points=points, width=dp(1.5)))
        for each in row:
            self._point(each, pace)

    def _point(self, heat: Heat, pace: str) -> None:
        x, y, side = self._at_length(heat.distance), self._at_degrees(heat.temperature), dp(POINT)
        if heat.spat:
            self._ink("late")
            corners = [(x - side, y - side), (x + side, y - side), (x, y + side)]
            self._drawn.add(
                Mesh(
                    vertices=[value for px, py in corners for value in (px, py, 0, 0)],
                    indices=[0, 1, 2],
                    mode="triangles",
                )
            )
        elif pace == "fast":
            self._ink("due")
            self._drawn.add(Rectangle(pos=(x - side / 2, y - side / 2), size=(side, side)))
        else:
            self._drawn.add(Color(*self.look.theme.ground))
            self._drawn.add(Ellipse(pos=(x - side / 2, y - side / 2), size=(side, side)))
            self._ink("text")
            self._drawn.add(Line(circle=(x, y, side / 2), width=dp(1.5)))

    def _ink(self, role: Role) -> None:
        self._drawn.add(Color(*self.look.ink(role)))

    def _at_length(self, distance: float) -> float:
        inner = self.width - self._left - dp(2 * POINT)
        return float(self.x + self._left + dp(POINT) + inner * distance / max(self._far, 0.1))

    def _at_degrees(self, celsius: float) -> float:
        span = self._top - self._low
        share = 0.5 if not span else (celsius - self._low) / span
        low = self.y + self._text * 2 + dp(SPACE / 2)
        return float(low + (self.top - self._text - low) * share)
