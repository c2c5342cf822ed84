"""The key to first aid, which stands over every page."""

from __future__ import annotations

from kivy.metrics import dp

from fieldapp.screens.keys import Act, Key
from fieldapp.screens.look import Look
from fieldapp.screens.theme import DESK, SPACE
from fieldapp.words import say

#: dp of a screen's height under which a page needs every line.
SHORT = 700
#: dp under which it is not drawn even there.
LEAST = 36


class AidKey(Key):
    """Full width and low, to leave pages their height; `Stage` takes touches far under it too."""

    def __init__(self, look: Look, act: Act) -> None:
        super().__init__(look, say("First aid"), act, least=DESK, size="small")

    def fit_over(self, width: float, height: float) -> None:
        """Stand over a page on a screen of this height; as low as its words where that is short."""
        high = self.fit(width)
        if height < dp(SHORT):
            high = max(dp(LEAST), self._lines[0].height + dp(SPACE / 2))
        self.height = high
