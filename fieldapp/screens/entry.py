"""A line to type in, for the desk: names and codes. Never on a screen used at the hive."""

from __future__ import annotations

from collections.abc import Callable

from kivy.graphics import Color, Line
from kivy.metrics import dp
from kivy.uix.textinput import TextInput

from fieldapp import late_styles
from fieldapp.screens.block import Block, Words
from fieldapp.screens.look import FONT, Look
from fieldapp.screens.theme import DESK, SPACE
from fieldapp.words import Phrase


class Entry(Block):
    """A name above a line to type in. `on_text` is called with each change."""

    def __init__(
        self, look: Look, name: Phrase | str, text: str, on_text: Callable[[str], None]
    ) -> None:
        super().__init__(look)
        late_styles.load()
        self._name = Words(look, name, "small")
        self.line = TextInput(
            text=text,
            multiline=False,
            write_tab=False,
            font_name=FONT,
            foreground_color=look.ink("text"),
            background_color=look.theme.ground,
            cursor_color=look.ink("due"),
            background_normal="",
            background_active="",
            size_hint=(None, None),
        )
        self.line.bind(text=lambda _, value: on_text(value))
        self.add_widget(self._name)
        self.add_widget(self.line)
        with self.line.canvas.after:
            Color(*look.ink("text"))
            self._edge = Line(width=dp(1.25))

    def fit(self, width: float) -> float:
        """Stand the line under its name; high enough for a finger and for the text."""
        size = self.look.type_size("body")
        self.line.font_size = size
        self.line.size = (width, max(dp(DESK), size * 1.36 + dp(2 * SPACE)))
        self.line.padding = [dp(SPACE), (self.line.height - size * 1.36) / 2]
        self.size = (width, self._name.fit(width) + dp(SPACE / 2) + self.line.height)
        return float(self.height)

    def place(self, x: float, y: float) -> None:
        """Stand at x, y."""
        self.pos = self.line.pos = (x, y)
        self._edge.rectangle = (x, y, self.line.width, self.line.height)
        self._name.place(x, y + self.line.height + dp(SPACE / 2))
