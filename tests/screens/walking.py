"""Goes through the program by touch and looks at every page that it comes by."""

from __future__ import annotations

from collections.abc import Callable

from driver import Phone

PHONES = [
    Phone(width, height, font)
    for width, height in ((360, 640), (412, 892), (480, 1000))
    for font in (1.0, 1.8)
]


class Walk:
    """Goes through pages by touch, turns each, and calls `look` with its name."""

    def __init__(self, app, look: Callable[[str], None]) -> None:
        self.app, self.hand, self.look = app, app.hand, look

    def here(self) -> None:
        first = self.hand.texts()
        for _ in range(60):
            self.look(self.app.page)
            if not self.hand.has_key("More"):
                return
            self.hand.tap("More")
            if self.hand.texts() == first:
                return
        raise AssertionError(f"the pages of {self.app.page} do not come round")

    def go(self, *words: str) -> None:
        for each in words:
            self.hand.find(each)
            self.hand.tap(each)
        self.here()

    def digits(self, number: str) -> None:
        for digit in number:
            self.hand.find(digit)
            self.hand.tap(digit, exactly=True)
        self.hand.tap("Take this")
