"""A program that walks a round until it is killed; says after each tap that it was answered."""

from __future__ import annotations

import sys
from pathlib import Path

import screen_environment  # noqa: F401  (before anything of Kivy)
from running import PHONE, Running
from test_screens_round import field


def main(folder: Path) -> None:
    app = Running(folder, PHONE)
    if app.page == "first name":
        app.set_up("Ferry Lane", 40)
        app.begin("Amitraz strips")
    print("open", flush=True)
    while app.page == "round":
        key = field(app)
        app.hand.touch(*key.center)
        app.hand.hands.pass_(1)
        app.hand.frames(1)
        print(app.hand.texts()[0], flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
