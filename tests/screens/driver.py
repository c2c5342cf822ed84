"""Hands and eyes for the tests: touches on pixels, and what a keeper can read."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

from kivy.base import EventLoop
from kivy.core.window import Window
from kivy.input.motionevent import MotionEvent
from kivy.metrics import Metrics
from kivy.uix.textinput import TextInput
from kivy.uix.widget import Widget

from fieldapp.screens.block import Words
from fieldapp.screens.keys import Key

_touches = itertools.count(1)


class Phone(NamedTuple):
    """A phone's screen in dp, and its owner's font size."""

    width: int
    height: int
    font: float


class Touch(MotionEvent):
    """One finger."""

    def __init__(self, x: float, y: float) -> None:
        self.sx, self.sy = x / Window.width, y / Window.height
        super().__init__(
            "test",
            f"finger {next(_touches)}",
            {"x": self.sx, "y": self.sy},
            is_touch=True,
            type_id="touch",
        )
        self.profile = ["pos"]

    def depack(self, args):
        self.sx, self.sy = args["x"], args["y"]
        super().depack(args)


class Hands:
    """A clock that the tests move: monotonic seconds, and microseconds since 1970."""

    def __init__(self, now_us: int) -> None:
        self.seconds = 1000.0
        self.now_us = now_us

    def pass_(self, seconds: float) -> None:
        self.seconds += seconds
        self.now_us += int(seconds * 1_000_000)


class Driver:
    """Touches the window and reads it. `hands` is the clock that passes between taps.

    Keys are named in English whatever the program speaks: `english` tells what is meant.
    """

    def __init__(self, phone: Phone, now_us: int = 1_780_000_000_000_000) -> None:
        self.english: dict[str, str] = {}
        EventLoop.ensure_window()
        if EventLoop.status != "started":
            EventLoop.start()
        self.clear()
        self.hands = Hands(now_us)
        self.hold(phone)

    def hold(self, phone: Phone) -> None:
        """Be a phone of this size."""
        Metrics.fontscale = phone.font
        Window.size = (phone.width, phone.height)
        self.frames(2)

    def clear(self) -> None:
        for child in list(Window.children):
            Window.remove_widget(child)

    def show(self, root: Widget) -> None:
        self.clear()
        Window.add_widget(root)
        self.frames(2)

    def frames(self, count: int = 2) -> None:
        for _ in range(count):
            EventLoop.idle()

    def until(self, condition: Callable[[], object], frames: int = 600) -> None:
        for _ in range(frames):
            if condition():
                return
            self.frames(1)
        raise AssertionError(f"not within {frames} frames; on the screen: {self.texts()}")

    def press(self, x: float, y: float) -> Touch:
        touch = Touch(x, y)
        EventLoop.post_dispatch_input("begin", touch)
        return touch

    def lift(self, touch: Touch) -> None:
        EventLoop.post_dispatch_input("end", touch)

    def touch(self, x: float, y: float) -> None:
        """One tap, and no time passing after it."""
        self.lift(self.press(x, y))
        self.frames(1)

    def tap(self, text: str, exactly: bool = False) -> None:
        """Tap the key on which `text` is written, and wait as long as a keeper does."""
        key = self.key(text, exactly)
        self.touch(*key.center)
        self.hands.pass_(1.0)
        self.frames(1)

    def tap_entry(self, index: int = 0) -> None:
        for _ in range(40):
            entries = [w for w in self.widgets() if isinstance(w, TextInput)]
            if len(entries) > index:
                break
            self.tap("More")
        entry = entries[index]
        self.touch(*entry.center)
        self.hands.pass_(1.0)
        self.frames(2)

    def type(self, text: str) -> None:
        for letter in text:
            Window.dispatch("on_textinput", letter)
        self.frames(2)

    def widgets(self) -> Iterator[Widget]:
        for child in Window.children:
            yield from child.walk(restrict=True)

    def shown_keys(self) -> list[Key]:
        return [widget for widget in self.widgets() if isinstance(widget, Key)]

    def key(self, text: str, exactly: bool = False) -> Key:
        found = [
            key
            for key in self.shown_keys()
            if (text in self.meant(key).split("\n") if exactly else text in self.meant(key))
        ]
        if not found:
            raise AssertionError(
                f"no key {text!r}; keys: {[self.meant(key) for key in self.shown_keys()]}"
            )
        return found[0]

    def has_key(self, text: str) -> bool:
        return any(text in self.meant(key) for key in self.shown_keys())

    def meant(self, key: Key) -> str:
        """Return what is written on a key, in English, line under line."""
        return "\n".join(self._english(line) for line in key.text.split("\n"))

    def _english(self, line: str) -> str:
        """Return what a line means; of one that is only begun on its key, all of it."""
        if not line.endswith("…"):
            return self.english.get(line, line)
        begun = line.removesuffix("…").strip()
        return next((self.english[said] for said in self.english if said.startswith(begun)), line)

    def texts(self) -> list[str]:
        return [w.text for w in self.widgets() if isinstance(w, Words) and w.text]

    def reads(self, text: str) -> bool:
        return any(text in shown for shown in self.texts())

    def all_pages(self) -> list[str]:
        """What stands on all pages of this screen; ends on the page it began on."""
        found = list(self.texts())
        first = list(self.texts())
        for _ in range(40):
            if not self.has_key("More"):
                return found
            self.tap("More")
            if self.texts() == first:
                return found
            found += self.texts()
        raise AssertionError("the pages do not come round")

    def find(self, text: str) -> None:
        """Turn pages until a key with `text` is in sight."""
        for _ in range(40):
            if self.has_key(text):
                return
            self.tap("More")
        raise AssertionError(f"{text!r} stands on no page")

    def shot(self, file: Path) -> Path:
        self.frames(2)
        made = Window.screenshot(name=str(file))
        Path(made).replace(file)
        return file
