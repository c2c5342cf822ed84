"""A real Kivy window off screen, driven by touches on its pixels."""

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

for name, value in {
    "width": "412",
    "height": "892",
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

import pytest
from driver import Driver
from running import PHONE, Running


@pytest.fixture
def open_app(tmp_path):
    """Open the program as on a phone of 412 x 892 dp, or another; closed at the end."""
    opened: list[Running] = []

    def opener(phone=PHONE, **parts) -> Running:
        running = Running(tmp_path / "phone", phone, **parts)
        opened.append(running)
        return running

    yield opener
    for running in opened:
        running.close()


@pytest.fixture
def app(open_app):
    """The program at its first start."""
    return open_app()


@pytest.fixture
def keeper(app):
    """The program with an apiary of twelve hives, *Ferry Lane*, in Great Britain."""
    app.set_up("Ferry Lane", 12)
    return app


@pytest.fixture
def phone():
    """A bare window of 412 x 892 dp."""
    driver = Driver(PHONE)
    yield driver
    driver.clear()
