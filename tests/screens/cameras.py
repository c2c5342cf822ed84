"""A camera for the tests, and what it takes: red above, blue below."""

from __future__ import annotations

import io

from PIL import Image

RED, BLUE = (200, 30, 30), (30, 30, 200)


def photo(size=(400, 300)) -> bytes:
    """Red above, blue below."""
    image = Image.new("RGB", size, BLUE)
    image.paste(RED, (0, 0, size[0], size[1] // 2))
    made = io.BytesIO()
    image.save(made, "JPEG")
    return made.getvalue()


class Camera:
    """A camera that takes one photo as soon as it is opened, or is left without one."""

    there = True

    def __init__(self, raw: bytes | None) -> None:
        self.raw = raw
        self.wrote: dict[str, bytes] = {}

    def take(self, name, left) -> None:
        if self.raw is None:
            left("cancelled")
        else:
            self.wrote[name] = self.raw
            left("taken")

    def taken(self, name):
        return self.wrote.get(name)

    def drop(self, name) -> None:
        self.wrote.pop(name, None)
