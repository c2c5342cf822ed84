"""What a terminal looks like in which block characters were printed."""

from __future__ import annotations

from PIL import Image, ImageDraw

_BLOCKS = set(" ▀▄█")
_MARGIN = 100


def drawn(shown: str, cell: tuple[int, int] = (10, 22)) -> Image.Image:
    """Draw the block characters of `shown`, light on dark, in cells that are higher than wide."""
    lines = [line for line in shown.split("\n") if line.strip() and set(line) <= _BLOCKS]
    wide, high = cell
    half = high // 2
    size = (max(map(len, lines)) * wide + 2 * _MARGIN, len(lines) * high + 2 * _MARGIN)
    image = Image.new("L", size, 20)
    draw = ImageDraw.Draw(image)
    for row, line in enumerate(lines):
        for column, letter in enumerate(line):
            x, y = _MARGIN + column * wide, _MARGIN + row * high
            if letter in "▀█":
                draw.rectangle((x, y, x + wide - 1, y + half - 1), fill=235)
            if letter in "▄█":
                draw.rectangle((x, y + half, x + wide - 1, y + high - 1), fill=235)
    return image
