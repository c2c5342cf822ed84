"""A photo on a page, as large as there is room for."""

from __future__ import annotations

import io
from collections.abc import Sequence

from kivy.graphics import Color, Rectangle
from kivy.graphics.texture import Texture
from kivy.metrics import dp
from PIL import Image

from fieldapp.screens.block import Block
from fieldapp.screens.look import Look

#: dp beyond which a photo does not grow: what is said of it stands on the same page.
HIGHEST = 420


class Picture(Block):
    """A photo (the bytes of a JPEG) as wide as the page, and whole.

    Only as many pixels are decoded as are shown: a page may have several photos.
    """

    def __init__(self, look: Look, data: bytes) -> None:
        super().__init__(look)
        self._data = data
        with Image.open(io.BytesIO(data)) as image:
            self._full = image.size
        self._most = dp(HIGHEST)
        self._decoded = (0, 0)
        with self.canvas:
            Color(1, 1, 1, 1)
            self._face = Rectangle()

    @property
    def drawn(self) -> tuple[float, float]:
        """The photo's own width and height as it is shown, in pixels."""
        wide, high = self._full
        return (self.height * wide / high, self.height)

    def fit(self, width: float) -> float:
        """Take `width` pixels; as high as the photo is then, or as there is room."""
        wide, high = self._full
        self.size = (width, min(width * high / wide, self._most))
        self._decode()
        return float(self.height)

    def place(self, x: float, y: float) -> None:
        """Stand at x, y, the photo at the left edge of its room."""
        self.pos = (x, y)
        self._face.pos, self._face.size = (round(x), round(y)), self.drawn

    def parts(self, height: float) -> Sequence[Block]:
        """Be no higher than a page."""
        self._most = min(dp(HIGHEST), height)
        return (self,)

    def _decode(self) -> None:
        size = (max(1, round(self.drawn[0])), max(1, round(self.drawn[1])))
        if size == self._decoded:
            return
        with Image.open(io.BytesIO(self._data)) as image:
            image.draft("RGB", size)
            shown = image.convert("RGB").resize(size)
        texture = Texture.create(size=size, colorfmt="rgb")
        texture.blit_buffer(shown.tobytes(), colorfmt="rgb", bufferfmt="ubyte")
        texture.flip_vertical()
        self._face.texture, self._decoded = texture, size
