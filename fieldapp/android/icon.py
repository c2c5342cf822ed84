"""The program's sign as a picture: a comb's cell with the round that goes through it."""

from __future__ import annotations

import math
from pathlib import Path

from PIL import Image, ImageDraw

SIDE = 512
_DRAWN = 4 * SIDE  # drawn larger, then made small: smooth edges
_GROUND = "#FFFFFF"
_CELL = "#7A4B00"
_ROUND = "#FFD24A"


def draw(path: Path) -> None:
    """Write the sign to `path` as PNG, 512 pixels square."""
    picture = Image.new("RGB", (_DRAWN, _DRAWN), _GROUND)
    pen = ImageDraw.Draw(picture)
    middle = _DRAWN / 2
    corners = [
        (middle + 0.46 * _DRAWN * math.sin(turn), middle - 0.46 * _DRAWN * math.cos(turn))
        for turn in (math.radians(60 * corner) for corner in range(6))
    ]
    pen.polygon(corners, fill=_CELL)
    reach, width = 0.23 * _DRAWN, int(0.06 * _DRAWN)
    box = (middle - reach, middle - reach, middle + reach, middle + reach)
    pen.arc(box, start=-60, end=240, fill=_ROUND, width=width)
    head = (
        middle + reach * math.cos(math.radians(-60)),
        middle - reach * math.sin(math.radians(60)),
    )
    dot = 0.07 * _DRAWN
    pen.ellipse((head[0] - dot, head[1] - dot, head[0] + dot, head[1] + dot), fill=_ROUND)
    picture.resize((SIDE, SIDE), Image.Resampling.LANCZOS).save(path)
