"""What every widget is made with: the theme, the font, and how phrases are spoken."""

from __future__ import annotations

from dataclasses import dataclass

from kivy.core.text import LabelBase
from kivy.metrics import sp

from fieldapp.assets import folder
from fieldapp.screens.theme import TYPE, Colour, Role, Size, Theme
from fieldapp.words import Phrase, Speech

FONT = "Apiary Rounds"


def register_font() -> None:
    """Make the shipped font known to Kivy; safe to repeat."""
    fonts = folder("fonts")
    LabelBase.register(
        FONT,
        fn_regular=str(fonts / "NotoSans-Regular.ttf"),
        fn_bold=str(fonts / "NotoSans-Bold.ttf"),
    )


@dataclass(slots=True)
class Look:
    """Theme and speech in force. Screens are built anew when either changes."""

    theme: Theme
    speech: Speech

    def say(self, phrase: Phrase | str) -> str:
        """Return what is shown for a phrase, or for a text that records or assets hold."""
        return self.speech(phrase)

    def ink(self, role: Role) -> Colour:
        """Return the colour of a role."""
        return self.theme.ink[role]

    def type_size(self, size: Size) -> float:
        """Return a type size in pixels, which follows the system's font size."""
        return float(sp(TYPE[size]))
