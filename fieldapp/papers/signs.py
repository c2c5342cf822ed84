"""The signs of the look, drawn for paper: told by their shape, whatever the printer's colours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.lib.colors import black, white
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from fieldapp.papers.model import Sign

#: Space between a sign and its words, in points.
_GAP = 2.5


def draw(canvas: Canvas, sign: Sign, x: float, y: float, side: float) -> None:
    """Draw a sign into the square of so many points whose lower left corner is at x, y.

    Filled disc: done, clear. Filled square: due. Triangle: late, hold. Hatched bar: closed.
    Ring: taken back, past. Open diamond: not known.
    """
    inset, thick = side * 0.08, max(side * 0.1, 0.6)
    left, right, low, high = x + inset, x + side - inset, y + inset, y + side - inset
    across, up = x + side / 2, y + side / 2
    canvas.saveState()
    canvas.setFillColor(black)
    canvas.setStrokeColor(black)
    canvas.setLineWidth(thick)
    if sign == "done":
        canvas.circle(across, up, side / 2 - inset, stroke=0, fill=1)
    elif sign == "due":
        canvas.rect(left, low, right - left, high - low, stroke=0, fill=1)
    elif sign == "late":
        _shape(canvas, [(left, low), (right, low), (across, high)], filled=True)
    elif sign == "closed":
        _hatched(canvas, left, low, right - left)
    elif sign == "quiet":
        canvas.circle(across, up, side / 2 - inset - thick / 2, stroke=1, fill=0)
    elif sign == "unknown":
        _shape(canvas, [(across, low), (right, up), (across, high), (left, up)], filled=False)
    canvas.restoreState()


def _shape(canvas: Canvas, corners: Sequence[tuple[float, float]], *, filled: bool) -> None:
    path = canvas.beginPath()
    path.moveTo(*corners[0])
    for corner in corners[1:]:
        path.lineTo(*corner)
    path.close()
    canvas.drawPath(path, stroke=0 if filled else 1, fill=1 if filled else 0)


def _hatched(canvas: Canvas, left: float, low: float, wide: float) -> None:
    """Draw a bar half as high as wide, ruled aslant."""
    bottom, top, step = low + wide / 4, low + wide * 3 / 4, wide / 4
    canvas.setFillColor(white)
    canvas.rect(left, bottom, wide, top - bottom, stroke=1, fill=1)
    for place in range(4):
        canvas.line(left + place * step, bottom, left + (place + 1) * step, top)


class Signed(Flowable):
    """Words with a sign before them; parted over two pages, the sign stays with the first."""

    def __init__(self, sign: Sign, words: Any) -> None:
        """`words` is a paragraph, or a part of one."""
        super().__init__()
        self._sign, self._words = sign, words
        self._side = words.style.fontSize * 1.05
        self.height = 0.0

    @property
    def _indent(self) -> float:
        return float(self._side + _GAP)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the room that it takes."""
        _, self.height = self._words.wrap(width - self._indent, height)
        return width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """Return what fits into `height` and what is left; nothing where not one line fits."""
        parts = self._words.split(width - self._indent, height)
        if len(parts) < 2:
            return []
        return [Signed(self._sign, parts[0]), Signed("", parts[1])]

    def draw(self) -> None:
        """Draw at the place that the page gives."""
        top = self.height - self._words.style.leading
        draw(self.canv, self._sign, 0, top + self._words.style.leading * 0.1, self._side)
        self._words.drawOn(self.canv, self._indent, 0)
