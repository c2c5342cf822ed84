"""A real Kivy window off screen, driven by touches on its pixels."""

from __future__ import annotations

import pytest
import screen_environment  # noqa: F401  (before anything of Kivy)
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
