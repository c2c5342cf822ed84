"""The counts of a year as a picture: each with its interval, against the level to act at."""

from __future__ import annotations

import math
from calendar import monthrange
from collections.abc import Sequence
from datetime import date, timedelta

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Rectangle
from kivy.metrics import dp

from fieldapp.rounds.count_told import Point, Year
from fieldapp.screens.block import Block, Words
from fieldapp.screens.look import Look
from fieldapp.screens.theme import SPACE, Role

#: dp of the drawn field, the least of it on a low page, and a count's disc.
HIGH, LOW, DISC = 220, 60, 12


class YearPicture(Block):
    """Months left to right, load upwards. A disc with a line: a count and its interval.

    A whole line across the months is a level whose source grounds an answer, a broken one a
    level that was reported only, a quiet broken one history.
    """

    def __init__(self, look: Look, year: Year) -> None:
        super().__init__(look)
        self._year = year
        highest = [point.value for point in year.points]
        highest += [min(point.interval.high, 3 * max(highest, default=1)) for point in year.points]
        highest += [level for level, _ in year.levels.values()]
        self._step = _step(max(highest, default=1.0))
        self._top = self._step * math.ceil(max(highest, default=1.0) * 1.05 / self._step)
        ticks = round(self._top / self._step)
        self._levels = [Words(look, f"{n * self._step:g}", "small") for n in range(ticks + 1)]
        self._months = [Words(look, str(month), "small") for month in range(1, 13)]
        self._high = dp(HIGH)
        self._drawn = InstructionGroup()
        self.canvas.add(self._drawn)

    def fit(self, width: float) -> float:
        """Return the height: the field and the numbers of the months under it."""
        for words in (*self._levels, *self._months):
            words.fit(max(words.wide(), 1.0))
        self._text = self._months[0].height
        self._margin = max(words.width for words in self._levels) + dp(SPACE)
        self.size = (width, self._high + 1.5 * self._text)
        return float(self.height)

    def parts(self, height: float) -> Sequence[Block]:
        """Be drawn lower where a page has less height."""
        self._high = max(min(dp(HIGH), height - 1.5 * self._text), dp(LOW))
        self.fit(self.width)
        return (self,)

    def place(self, x: float, y: float) -> None:
        """Draw at x, y."""
        self.pos = (x, y)
        self._drawn.clear()
        self._draw_scale()
        self._draw_levels()
        for point in self._year.points:
            self._draw_point(point)

    def _draw_scale(self) -> None:
        bottom, right = self.y + self._text, self.x + self.width
        free = float("-inf")
        for number, words in enumerate(self._levels):
            up = self._up(number * self._step)
            self._ink("quiet")
            self._drawn.add(Rectangle(pos=(self.x + self._margin, up), size=(self._wide, dp(1))))
            low = up - words.height / 2
            if self._shown(words, low >= free):
                words.place(self.x, low)
                free = low + words.height
        ends = float("-inf")
        for month, words in enumerate(self._months, 1):
            middle = self._across(date(self._year.year, month, 15)) - words.width / 2
            if self._shown(words, middle >= ends and middle + words.width <= right):
                words.place(middle, bottom - words.height)
                ends = middle + words.width + dp(SPACE)

    def _shown(self, words: Words, fits: bool) -> bool:
        """Have words on the picture where they fit; return whether they do."""
        if words.parent is not None:
            self.remove_widget(words)
        if fits:
            self.add_widget(words)
        return fits

    def _draw_levels(self) -> None:
        for month, (level, standing) in self._year.levels.items():
            first = date(self._year.year, month, 1)
            left = self._across(first)
            right = self._across(first + timedelta(days=monthrange(first.year, month)[1] - 1))
            right += self._wide / 365
            up = self._up(level)
            self._ink("quiet" if standing == "history" else "late")
            if standing == "ground":
                self._drawn.add(Rectangle(pos=(left, up - dp(1)), size=(right - left, dp(3))))
                continue
            dash = (right - left) / 5
            for part in (0, 2, 4):
                at = (left + part * dash, up - dp(1))
                self._drawn.add(Rectangle(pos=at, size=(dash, dp(3))))

    def _draw_point(self, point: Point) -> None:
        middle, half = self._across(point.day), dp(DISC / 2)
        low, high = self._up(point.interval.low), self._up(point.interval.high)
        self._ink("text")
        self._drawn.add(Line(points=[middle, low, middle, high], width=dp(1.2)))
        self._ink("due")
        at = (middle - half, self._up(point.value) - half)
        self._drawn.add(Ellipse(pos=at, size=(2 * half, 2 * half)))

    @property
    def _wide(self) -> float:
        return float(self.width - self._margin)

    def _across(self, day: date) -> float:
        share = (day - date(day.year, 1, 1)).days / 365
        return float(self.x + self._margin + self._wide * min(share, 1.0))

    def _up(self, value: float) -> float:
        share = min(max(value / self._top, 0.0), 1.0)
        return float(self.y + self._text + self._high * share)

    def _ink(self, role: Role) -> None:
        self._drawn.add(Color(*self.look.ink(role)))


def _step(highest: float) -> float:
    """Return a round distance between the lines: about four of them."""
    power = 10 ** math.floor(math.log10(max(highest, 0.1) / 4))
    return float(next(power * n for n in (1, 2, 5, 10) if power * n * 5 >= max(highest, 0.1)))
