"""A photo as dark and light: one byte a pixel, whatever light fell on it."""

from __future__ import annotations

from typing import NamedTuple

from PIL import Image, ImageChops, ImageFilter

#: The mean that a pixel is compared with is taken over this part of the photo's longer side.
_AROUND = 1 / 12
#: Steps of grey (of 255) that a pixel must be darker than what is around it.
_DARKER = 6


class Raster(NamedTuple):
    """Dark (1) and light (0) pixels, row by row from the top."""

    width: int
    height: int
    data: bytes

    def dark(self, x: float, y: float) -> bool:
        """Whether the pixel under a point is dark; outside everything is light."""
        column, row = int(x), int(y)
        if not (0 <= column < self.width and 0 <= row < self.height):
            return False
        return bool(self.data[row * self.width + column])

    def turned(self) -> Raster:
        """Return the raster with rows and columns exchanged."""
        columns = [self.data[x :: self.width] for x in range(self.width)]
        return Raster(self.height, self.width, b"".join(columns))


def raster(image: Image.Image, side: int) -> Raster:
    """Return an image of at most `side` pixels a side as dark and light.

    A pixel is dark where it is darker than its neighbourhood: a shadow over one half of the code
    changes nothing.
    """
    grey = image.convert("L")
    grey.thumbnail((side, side))
    around = grey.filter(ImageFilter.BoxBlur(max(grey.size) * _AROUND))
    darker = ImageChops.subtract(around, grey)
    dark = darker.point([0] * _DARKER + [1] * (256 - _DARKER))
    return Raster(grey.width, grey.height, dark.tobytes())
