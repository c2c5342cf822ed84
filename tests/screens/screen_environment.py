"""Sets Kivy up for a window off screen; imported before anything of Kivy."""

from __future__ import annotations

import os
import tempfile

for name, value in {
    "SDL_VIDEODRIVER": "offscreen",
    "KIVY_WINDOW": "sdl2",
    "KIVY_CLIPBOARD": "dummy",
    "KIVY_METRICS_DENSITY": "1",
    "KIVY_METRICS_FONTSCALE": "1",
}.items():
    os.environ.setdefault(name, value)
os.environ.update(
    KIVY_NO_ARGS="1",
    KIVY_NO_ENV_CONFIG="1",
    KIVY_NO_FILELOG="1",
    KIVY_LOG_MODE="MIXED",
    KIVY_HOME=tempfile.mkdtemp(prefix="kivy-home-"),
)

from kivy.config import Config

# The largest screen of the tests: off screen a window can be made smaller, but never larger.
for name, value in {
    "width": "480",
    "height": "1000",
    "resizable": "1",
    "multisamples": "0",
    "vsync": "0",
    "maxfps": "0",
}.items():
    Config.set("graphics", name, value)
for name in dict(Config.items("input")):
    Config.remove_option("input", name)
Config.set("input", "mouse", "mouse,disable_multitouch")
Config.set("kivy", "exit_on_escape", "0")

from fieldapp import late_styles

late_styles.put_off()
