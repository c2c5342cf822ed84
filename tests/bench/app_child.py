"""One cold start for `bench_app.py`, in a process of its own: an empty window, or the program.

Prints one line of JSON: what stood on the first frame that was shown, the moment it was shown on
the machine's monotonic clock (ns), seconds of the processor so far, and the peak of memory.
"""

from __future__ import annotations

import json
import os
import sys
import time
from pathlib import Path

SIZE = (412, 892)
ENVIRONMENT = {
    "SDL_VIDEODRIVER": "offscreen",
    "LP_NUM_THREADS": "0",  # threads of a renderer in software hold frames: not the app's memory
    "KIVY_WINDOW": "sdl2",
    "KIVY_CLIPBOARD": "dummy",
    "KIVY_METRICS_DENSITY": "1",
    "KIVY_METRICS_FONTSCALE": "1",
    "KIVY_NO_ENV_CONFIG": "1",
    "KIVY_NO_ARGS": "1",
    "KIVY_NO_FILELOG": "1",
    "KIVY_NO_CONSOLELOG": "1",
    "KIVY_LOG_MODE": "MIXED",
}


def shown() -> list[str]:
    """Return the words that stand in the window."""
    from kivy.core.window import Window

    return [
        widget.text
        for child in Window.children
        for widget in child.walk(restrict=True)
        if getattr(widget, "text", "")
    ]


def told(texts: list[str], **more: object) -> None:
    """Print what a run came to, and end."""
    status = Path("/proc/self/status").read_text()
    peak = next(int(line.split()[1]) for line in status.splitlines() if "VmHWM" in line)
    print(json.dumps({"texts": texts, "peak_mb": peak / 1024, **more}), flush=True)


def finish(*_: object) -> None:
    """Wait until a frame is drawn, as a screen's swap does.

    That of a window off screen waits for nothing: then a frame is timed that was not drawn yet,
    and a renderer in software holds the textures of all frames that it still has to draw.
    """
    from kivy.graphics.opengl import glFinish

    glFinish()


def watch() -> None:
    """End the program as soon as a frame with words on it was shown."""
    from kivy.clock import Clock

    def look(_: float) -> None:
        from kivy.core.window import Window

        if Window.children:
            Window.bind(on_flip=flipped)
            event.cancel()

    def flipped(*_: object) -> None:
        texts = shown()
        finish()
        if texts:
            told(texts, at_ns=time.monotonic_ns(), cpu_s=time.process_time())
            sys.stdout.flush()
            os._exit(0)  # what closing takes is not asked

    event = Clock.schedule_interval(look, 0)


def empty() -> None:
    """Show a window with one word on it, by the settings that the program has."""
    from kivy.config import Config

    width, height = SIZE
    for name, value in {"width": width, "height": height, "multisamples": 0}.items():
        Config.set("graphics", name, str(value))
    Config.set("input", "mouse", "mouse,disable_multitouch")
    Config.set("kivy", "exit_on_escape", "0")
    from kivy.app import App
    from kivy.uix.label import Label

    class Empty(App):
        def build(self) -> Label:
            return Label(text="empty")

    watch()
    Empty().run()


def program(folder: Path, now_us: int) -> None:
    """Open the program as a desktop does; its clock begins at `now_us` since 1970, UTC."""
    from fieldapp.rounds.clock import Clock
    from fieldapp.run import run

    ahead_us = now_us - time.time_ns() // 1000
    asked = []

    def now() -> int:
        if not asked:  # it asks when Kivy is loaded, by itself, and nothing is drawn yet
            asked.append(True)
            watch()
        return time.time_ns() // 1000 + ahead_us

    run(folder, SIZE, None, Clock(now, time.monotonic))


if __name__ == "__main__":
    os.environ.update(ENVIRONMENT)
    if sys.argv[1:]:
        program(Path(sys.argv[1]), int(sys.argv[2]))
    else:
        empty()
