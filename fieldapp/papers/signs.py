"""The signs of the look, drawn for paper: told by their shape, whatever the printer's colours."""

from __future__ import annotations

from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Polygon, Rect
from reportlab.lib.colors import black, white

from fieldapp.papers.model import Sign


def drawn(sign: Sign, side: float) -> Drawing:
    """Return a sign as a square drawing of so many points.

    Filled disc: done, clear. Filled square: due. Triangle: late, hold. Hatched bar: closed.
    Ring: taken back, past. Open diamond: not known.
    """
    drawing = Drawing(side, side)
    inset = side * 0.08
    low, high, middle = inset, side - inset, side / 2
    thick = max(side * 0.1, 0.6)
    if sign == "done":
        drawing.add(_filled(Circle(middle, middle, middle - inset)))
    elif sign == "due":
        drawing.add(_filled(Rect(low, low, high - low, high - low)))
    elif sign == "late":
        corners = [low, low, high, low, middle, high]
        drawing.add(_filled(Polygon(corners)))
    elif sign == "closed":
        drawing.add(_hatched(low, high, thick))
    elif sign == "quiet":
        radius = middle - inset - thick / 2
        drawing.add(_open(Circle(middle, middle, radius), thick))
    elif sign == "unknown":
        corners = [middle, low, high, middle, middle, high, low, middle]
        drawing.add(_open(Polygon(corners), thick))
    return drawing


def _filled(shape: Circle | Polygon | Rect) -> Circle | Polygon | Rect:
    shape.fillColor, shape.strokeColor = black, None
    return shape


def _open(shape: Circle | Polygon | Rect, thick: float) -> Circle | Polygon | Rect:
    shape.fillColor, shape.strokeColor, shape.strokeWidth = white, black, thick
    return shape


def _hatched(low: float, high: float, thick: float) -> Group:
    """Return a bar half as high as wide, ruled aslant."""
    quarter = (high - low) / 4
    bottom, top = low + quarter, high - quarter
    bar = Group(_open(Rect(low, bottom, high - low, top - bottom), thick * 0.8))
    steps = 4
    step = (high - low) / steps
    for place in range(steps):
        left = low + place * step
        bar.add(Line(left, bottom, left + step, top, strokeColor=black, strokeWidth=thick))
    return bar
