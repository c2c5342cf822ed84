"""The program in its own loop, in which something goes wrong that nobody foresaw."""

from __future__ import annotations

import sys
import threading
from pathlib import Path

import screen_environment  # noqa: F401  (before anything of Kivy)
from kivy.clock import Clock
from kivy.core.window import Window

from fieldapp.bootstrap import bootstrap, close
from fieldapp.rounds.setup import COUNTRIES, Setup
from fieldapp.screens.app import RoundsApp
from fieldapp.screens.block import Words

#: Seconds after which nothing will be told any more.
PATIENCE = 60


class Broken(Exception):
    """What nobody foresaw."""


def _breaks(*_) -> None:
    raise Broken("a value that cannot be")


def main(folder: Path, where: str) -> None:
    kit = bootstrap(
        folder, main=lambda work: Clock.schedule_once(lambda _: work(), 0), zone="Europe/London"
    )
    setup = Setup(kit.notebook)
    setup.country, setup.hives = COUNTRIES[0], 2
    setup.finish()
    app = RoundsApp(kit)

    def texts() -> list[str]:
        return [each.text for each in Window.children[0].walk() if isinstance(each, Words)]

    def told(since: float) -> None:
        waited.append(since)
        if app.flow.stage.page.name != "fault" and sum(waited) < PATIENCE:
            return
        looks.cancel()
        print("page", app.flow.stage.page.name, flush=True)
        print("\n".join(texts()), flush=True)
        app.flow.start_up()
        print("page", app.flow.stage.page.name, flush=True)
        app.stop()

    ways = {
        "key": lambda _: app.flow.stage.call(_breaks),
        "clock": _breaks,
        "thread": lambda _: threading.Thread(target=_breaks).start(),
        "papers": lambda _: (
            setattr(kit.papers, "_backup", _breaks),
            kit.papers.backup(),
        ),
    }
    Clock.schedule_once(ways[where], 0.3)
    waited: list[float] = []
    looks = Clock.schedule_interval(told, 0.5)
    app.run()
    print("busy", kit.papers.busy, flush=True)
    close(kit)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
