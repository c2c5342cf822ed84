"""A course as a line of days: visits and how long each acts, and the cells that hatch under it."""

from __future__ import annotations

from collections.abc import Sequence

from kivy.graphics import Color, InstructionGroup, Line, Rectangle
from kivy.metrics import dp

from fieldapp.husbandry.cells import Reach, Span
from fieldapp.rounds.hole import CASTES, Hole, Visit
from fieldapp.screens.block import Block, Words
from fieldapp.screens.look import Look
from fieldapp.screens.theme import SPACE, Role

#: dp of a band of cells, and of the bar over which an application acts.
BAND, BAR = 36, 14


class HolePicture(Block):
    """Days from the start, left to right: squares for visits, bars for how long they act.

    Under them a band for each caste's cells: filled where mites that leave are met, hatched in
    the late colour where they hatch unmet.
    """

    def __init__(self, look: Look, hole: Hole) -> None:
        super().__init__(look)
        self._visits: Sequence[Visit] = hole.visits
        self._castes: Sequence[Reach] = hole.timeline.castes
        self._acts = hole.acts
        longest = max(each.sealed for each in self._castes)
        self._days = max(longest, self._visits[-1].day + 1.0)
        self._ticks = [Words(look, str(day), "small", "quiet") for day in self._shown_days()]
        self._names = [Words(look, CASTES[each.caste], "small") for each in self._castes]
        for words in (*self._ticks, *self._names):
            self.add_widget(words)
        self._drawn = InstructionGroup()
        self.canvas.add(self._drawn)

    def _shown_days(self) -> list[int]:
        return list(range(0, int(self._days) + 1, 5 if self._days <= 40 else 20))

    def fit(self, width: float) -> float:
        """Return the height: the days, the visits, and a named band for each caste."""
        text = max(words.fit(width) for words in (*self._ticks, *self._names))
        for words in self._ticks:
            words.fit(max(words.wide(), 1.0))
        self._text = text
        high = text + dp(BAND / 2 + SPACE + BAR + SPACE)
        high += len(self._castes) * (text + dp(BAND + SPACE))
        self.size = (width, high)
        return float(high)

    def place(self, x: float, y: float) -> None:
        """Draw at x, y."""
        self.pos = (x, y)
        self._drawn.clear()
        top = y + self.height - self._text
        ends = float("-inf")
        for day, words in zip(self._shown_days(), self._ticks, strict=True):
            left = min(self._at(day), x + self.width - words.width)
            words.opacity = 1.0 if left >= ends else 0.0
            if left >= ends:
                words.place(left, top)
                ends = left + words.width + dp(SPACE)
                self._ink("quiet")
                self._drawn.add(Rectangle(pos=(self._at(day), y), size=(dp(1), top - y)))
        top -= dp(BAND / 2 + SPACE)
        self._draw_visits(top)
        top -= dp(BAR + SPACE)
        for reach, name in zip(self._castes, self._names, strict=True):
            top -= self._text
            name.place(x, top)
            top -= dp(BAND)
            self._draw_band(reach, top)
            top -= dp(SPACE)

    def _draw_visits(self, y: float) -> None:
        side = dp(BAND / 2)
        for visit in self._visits:
            left = self._at(visit.day)
            self._ink("done" if visit.done else "due")
            self._drawn.add(Rectangle(pos=(left, y), size=(side, side)))
            end = min(visit.day + max(self._acts, 0.15), self._days)
            self._drawn.add(
                Rectangle(pos=(left, y - dp(BAR)), size=(self._at(end) - left, dp(BAR)))
            )

    def _draw_band(self, reach: Reach, y: float) -> None:
        self._ink("done")
        for span in reach.met:
            self._fill(span, y)
        for span in reach.holes:
            self._hatch(span, y, "late")
        self._ink("text")
        right = self._at(reach.sealed)
        self._drawn.add(
            Line(rectangle=(self.x + 1, y, max(right - self.x - 2, 1), dp(BAND)), width=dp(1))
        )

    def _fill(self, span: Span, y: float) -> None:
        left, right = self._at(span.low), self._at(span.high)
        self._drawn.add(Rectangle(pos=(left, y), size=(max(right - left, dp(1)), dp(BAND))))

    def _hatch(self, span: Span, y: float, role: Role) -> None:
        """Draw slanting lines inside the span."""
        left, right, high = self._at(span.low), self._at(span.high), dp(BAND)
        self._ink(role)
        self._drawn.add(Line(rectangle=(left, y, right - left, high), width=dp(1.5)))
        step = dp(SPACE)
        foot = left - high
        while foot < right:
            low, end = max(foot, left), min(foot + high, right)
            if end > low:
                self._drawn.add(
                    Line(points=[low, y + low - foot, end, y + end - foot], width=dp(1.2))
                )
            foot += step

    def _ink(self, role: Role) -> None:
        self._drawn.add(Color(*self.look.ink(role)))

    def _at(self, day: float) -> float:
        return float(self.x + self.width * day / self._days)
