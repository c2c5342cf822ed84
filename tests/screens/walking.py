"""Goes through the program by touch and looks at every page that it comes by."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable

from driver import Phone

PHONES = [
    Phone(width, height, font)
    for width, height in ((360, 640), (412, 892), (480, 1000))
    for font in (1.0, 1.8)
]
#: Pages that a walk comes to again and again with little changed: turned twice only.
OFTEN = {"due", "home", "hive", "start", "summary", "treatment", "others", "record", "history"}


class Walk:
    """Goes through pages by touch, turns each, and calls `look` with its name.

    Words are in English, whatever the program speaks.
    """

    def __init__(self, app, look: Callable[[str], None]) -> None:
        self.app, self.hand, self.look = app, app.hand, look
        self._turned: Counter[str] = Counter()
        self._seen: set[tuple[str, ...]] = set()

    def here(self) -> None:
        """Look at every part of the page in sight, unless it was seen just so before."""
        shown = self.app.page, *self.hand.texts()
        if shown in self._seen or (shown[0] in OFTEN and self._turned[shown[0]] >= 2):
            return
        self._turned[shown[0]] += 1
        began = self._part
        for _ in range(60):
            self._seen.add((self.app.page, *self.hand.texts()))
            self.look(self.app.page)
            if not self.hand.has_key("More"):
                return
            self.hand.tap("More")
            if self._part == began:
                return
        raise AssertionError(f"the parts of {self.app.page} do not come round")

    @property
    def _part(self) -> int:
        return self.app.app.flow.stage.page.at

    def tap(self, *words: str) -> None:
        """Tap one key after the other and look at none of what comes between."""
        for each in words:
            self.hand.find(each)
            self.hand.tap(each)

    def go(self, *words: str) -> None:
        """Tap one key after the other and look at what comes then."""
        self.tap(*words)
        self.here()

    def exactly(self, word: str) -> None:
        """Tap the key on which a line says just this, and look."""
        self._find_exactly(word)
        self.hand.tap(word, exactly=True)
        self.here()

    def digits(self, number: str) -> None:
        """Enter a number and take it."""
        for digit in number:
            self._find_exactly(digit)
            self.hand.tap(digit, exactly=True)
        self.hand.find("Take this")
        self.hand.tap("Take this")

    def back_to(self, page: str) -> None:
        """Go back until this page is in sight."""
        for _ in range(12):
            if self.app.page == page:
                return
            self.tap("Back")
        raise AssertionError(f"back leads to {self.app.page}, not to {page}")

    def wait(self, seconds: float) -> None:
        """Let time pass with nobody touching, and look."""
        self.app.wait(seconds)
        self.here()

    def until(self, condition: Callable[[], object], seconds: float = 60) -> None:
        """Let a task beside the screen come to its end, and look."""
        ends = time.monotonic() + seconds
        while not condition():
            assert time.monotonic() < ends, self.hand.texts()
            self.hand.frames(1)
        self.hand.frames(2)
        self.here()

    def _find_exactly(self, word: str) -> None:
        for _ in range(40):
            if any(word in self.hand.meant(key).split("\n") for key in self.hand.shown_keys()):
                return
            self.hand.tap("More")
        raise AssertionError(f"no key says just {word!r}")
