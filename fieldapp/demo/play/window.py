"""A phone's window rendered off screen, a finger that touches its pixels, and eyes that read it.

Kivy reads its settings when it is imported, so `off_screen` comes before `Hand` is made.
"""

from __future__ import annotations

import logging
import os
import time
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

from fieldapp import late_styles
from fieldapp.demo.play.errors import NotOnScreen, NoWindow

WIDTH_PX, HEIGHT_PX = 540, 1170
DENSITY = "1.3107"
"""Makes 540 pixels the 412 dp of a common phone."""

PATIENCE_S = 45.0

MOST_TURNS = 30
"""How often a page is turned in search of a key: more than once round, as a person would."""


def off_screen(home: Path) -> None:
    """Tell Kivy, before it is imported, to draw into memory; its own files go to `home`."""
    os.environ.update(
        SDL_VIDEODRIVER="offscreen",
        KIVY_WINDOW="sdl2",
        KIVY_CLIPBOARD="dummy",
        KIVY_METRICS_DENSITY=DENSITY,
        KIVY_METRICS_FONTSCALE="1",
        KIVY_NO_ARGS="1",
        KIVY_NO_ENV_CONFIG="1",
        KIVY_NO_FILELOG="1",
        KIVY_LOG_MODE="MIXED",
        KIVY_HOME=str(home),
    )
    home.mkdir(parents=True, exist_ok=True)
    # Kivy tells at length what it found on this machine; what goes wrong is raised, not logged.
    logging.disable(logging.CRITICAL)
    from kivy.config import Config  # noqa: PLC0415  # after the settings above

    settings = {"width": WIDTH_PX, "height": HEIGHT_PX, "resizable": 0, "multisamples": 0}
    for name, value in {**settings, "vsync": 0, "maxfps": 0}.items():
        Config.set("graphics", name, str(value))
    for name in dict(Config.items("input")):
        Config.remove_option("input", name)
    Config.set("input", "mouse", "mouse,disable_multitouch")
    Config.set("kivy", "exit_on_escape", "0")
    late_styles.put_off()


class Hand:
    """One finger on the window. It knows the app only by what can be seen and touched."""

    def __init__(self, root: Any, wait: Callable[[float], None]) -> None:
        """Show `root` in the window; `wait` lets the app's clock go on between touches."""
        from kivy.base import EventLoop  # noqa: PLC0415  # the window opens here, not before
        from kivy.core.window import Window  # noqa: PLC0415
        from kivy.uix.textinput import TextInput  # noqa: PLC0415

        import_module("kivy.core.clipboard")  # an entry would look for it later, and tell at length

        if Window is None:
            raise NoWindow
        self._loop = EventLoop
        self._window = Window
        self._entry = TextInput
        self._wait = wait
        self._touches = 0
        EventLoop.ensure_window()
        if EventLoop.status != "started":
            EventLoop.start()
        logging.disable(logging.NOTSET)
        Window.add_widget(root)
        self.frames(3)

    def frames(self, number: int = 2) -> None:
        """Let the app draw so many frames."""
        for _ in range(number):
            self._loop.idle()

    def tap(self, text: str, *, after_s: float = 1.0) -> None:
        """Touch the middle of the key on which `text` stands, turning pages to find it."""
        self.touch(*self._find(text))
        self._wait(after_s)
        self.frames()

    def touch(self, x: float, y: float) -> None:
        """Put the finger down at the pixel x, y, and lift it."""
        touch = _finger(self._touches, x / self._window.width, y / self._window.height)
        self._touches += 1
        self._loop.post_dispatch_input("begin", touch)
        self.frames(1)
        self._loop.post_dispatch_input("end", touch)
        self.frames(2)

    def type_into(self, number: int, text: str) -> None:
        """Touch the entry `number` from the top, and type."""
        entries = [each for each in self._widgets() if isinstance(each, self._entry)]
        entries.sort(key=lambda each: -each.center_y)
        self.touch(*entries[number].center)
        self._wait(1)
        self.frames()
        for letter in text:
            self._window.dispatch("on_textinput", letter)
        self.frames()

    def until(self, sees: Callable[[], bool], what: str) -> None:
        """Let frames pass until `sees` is true.

        :raises NotOnScreen: after a while, naming `what` was waited for.
        """
        deadline = time.monotonic() + PATIENCE_S
        while not sees():
            if time.monotonic() > deadline:
                raise NotOnScreen(f"Waited for {what}; on the screen: {self.texts()}")
            self.frames(1)

    def key_texts(self) -> list[str]:
        """Return what is written on each key in sight, from the top down."""
        return [key.text for key in self._keys()]

    def texts(self) -> list[str]:
        """Return every text in sight, from the top down."""
        from fieldapp.screens.block import Words  # noqa: PLC0415

        labels = [each for each in self._widgets() if isinstance(each, Words) and each.text]
        return [label.text for label in sorted(labels, key=lambda each: -each.top)]

    def over_pages(self, read: Callable[[], list[str]]) -> list[str]:
        """Return what `read` finds on all pages of this screen; ends on the first page."""
        first = read()
        found, page = list(first), first
        while any(key.startswith("More") for key in self.key_texts()):
            self.tap("More")
            page = read()
            if page == first:
                break
            found += page
        return found

    def picture(self, file: Path) -> None:
        """Keep what the window shows as a PNG."""
        self.frames(2)
        Path(self._window.screenshot(name=str(file))).replace(file)

    def _find(self, text: str) -> tuple[float, float]:
        """Return the middle of the key on which `text` stands, turning pages to find it."""
        for _ in range(MOST_TURNS):
            keys = self._keys()
            for key in keys:
                if text in key.text:
                    return float(key.center_x), float(key.center_y)
            more = next((key for key in keys if key.text.startswith("More")), None)
            if more is None:
                break
            self.touch(*more.center)
            self._wait(1)
            self.frames()
        raise NotOnScreen(f"No key says {text!r}; the keys: {self.key_texts()}")

    def _keys(self) -> list[Any]:
        from fieldapp.screens.keys import Key  # noqa: PLC0415

        keys = [each for each in self._widgets() if isinstance(each, Key)]
        return sorted(keys, key=lambda key: (-key.top, key.x))

    def _widgets(self) -> list[Any]:
        return [each for child in self._window.children for each in child.walk(restrict=True)]


def _finger(number: int, sx: float, sy: float) -> Any:
    """Return a touch at a place given as shares of the window's width and height."""
    from kivy.input.motionevent import MotionEvent  # noqa: PLC0415

    class Finger(MotionEvent):  # type: ignore[misc]  # Kivy has no types
        def depack(self, args: dict[str, float]) -> None:
            self.profile = ["pos"]
            self.sx, self.sy = args["x"], args["y"]
            super().depack(args)

    return Finger("play", f"finger {number}", {"x": sx, "y": sy}, is_touch=True, type_id="touch")
