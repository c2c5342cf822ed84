"""Touches of a running program for `bench_app.py`, in a process of its own.

Begins a round in the folder given and touches the large field until the round is over, round
after round. What is timed goes from the finger's lifting to widgets set, positions and letters
included, drawing not; touches on the way to a round are told apart from those in it. Drawing a
frame is timed beside, and one of a window with one word on it. Prints one line of JSON,
milliseconds.
"""

from __future__ import annotations

import os
import sqlite3
import sys
import time
from collections.abc import Callable
from pathlib import Path
from time import process_time as process

from app_child import ENVIRONMENT, SIZE, finish, told

os.environ.update(ENVIRONMENT)
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "screens"))

import screen_environment  # noqa: F401
from driver import Phone
from kivy.base import EventLoop
from kivy.clock import Clock as KivyClock
from kivy.lang import Builder
from kivy.uix.label import Label
from running import Running

from fieldapp.demo.play.clock import MORNING
from fieldapp.journal.record import encode
from fieldapp.screens.keys import BigField, Key

ROUNDS = 3
TREATMENT = sys.argv[2] if len(sys.argv) > 2 else ""


def ms(work: Callable[[], object], clock: Callable[[], float] = time.perf_counter) -> float:
    """Return how long it took."""
    began = clock()
    work()
    return (clock() - began) * 1e3


def drawn() -> None:
    """Draw a frame and show it."""
    EventLoop.window.dispatch("on_draw")
    EventLoop.window.dispatch("on_flip")


def laid_out() -> None:
    """Let what waits for the next frame be done, all but drawing."""
    KivyClock.tick()
    Builder.sync()
    KivyClock.tick_draw()
    Builder.sync()


def answer(hand, touch) -> None:
    """Lift the finger, and have everything set that follows from it."""
    hand.lift(touch)
    laid_out()


class RawCommits:
    """One row of the same bytes, one commit, the same SQLite settings: nothing faster is safe."""

    def __init__(self, folder: Path) -> None:
        self._connection = sqlite3.connect(folder / "raw.db", isolation_level=None)
        self._connection.execute("PRAGMA journal_mode = WAL")
        self._connection.execute("PRAGMA synchronous = FULL")
        self._connection.execute("CREATE TABLE IF NOT EXISTS record (raw BLOB)")

    def write(self, raw: bytes) -> None:
        """Put it on the disk."""
        self._connection.execute("BEGIN IMMEDIATE")
        self._connection.execute("INSERT INTO record VALUES (?)", (raw,))
        self._connection.execute("COMMIT")


class Bench:
    """The program on a folder, and how long its touches took."""

    def __init__(self, folder: Path) -> None:
        morning_us = int(MORNING.timestamp() * 1_000_000)
        self.running = Running(folder, Phone(*SIZE, 1.0), now_us=morning_us)
        self.hand = self.running.hand
        self.ways, self.ways_busy, self.widgets, self.widgets_busy = [], [], [], []
        self.frames, self.writes, self.raws = [], [], []
        EventLoop.window.bind(on_flip=finish)
        self._raw = RawCommits(folder)
        self._journal = self.running.kit.notebook.journal
        self._write = self._journal.write
        self._journal.write = self._timed

    def _timed(self, drafts):
        began = time.perf_counter()
        records = self._write(drafts)
        self._last = (time.perf_counter() - began) * 1e3, records
        return records

    def rounds(self, number: int) -> None:
        """Walk every apiary so often, 60 days apart, touching the large field at each hive."""
        notebook = self.running.kit.notebook
        names = [place.name for place in notebook.book.apiaries(notebook.today())]
        for _ in range(number):
            for name in names:
                self._begin(name)
                while self.running.page == "round":
                    self.tap()
                self._go("What is due")
            self.running.wait(60 * 86400.0)
            self.running.app.flow.due()

    def _begin(self, place: str) -> None:
        for words in ("Other apiary", place, TREATMENT):
            self._go(words)
        while not self.hand.has_key("As shown"):
            self._go("Not on the label")
        self._go("As shown")

    def _go(self, words: str) -> None:
        """Touch the key with these words, and *More* until it is in sight, timed."""
        while True:
            found = self.hand.has_key(words)
            self._touch(self.hand.key(words if found else "More"), self.ways, self.ways_busy)
            self.running.wait(5.0)  # a keeper reads the page
            if found:
                return

    def _touch(self, key: Key, took: list[float], busy: list[float]) -> None:
        touch = self.hand.press(*key.center)
        self.hand.frames(1)
        busy.append(ms(lambda: took.append(ms(lambda: answer(self.hand, touch))), process))

    def tap(self) -> None:
        """Touch the field, timed; then commit the same bytes bare."""
        field = next(key for key in self.hand.shown_keys() if isinstance(key, BigField))
        self._touch(field, self.widgets, self.widgets_busy)
        self.frames.append(ms(drawn))
        took, records = self._last
        if len(records) == 1:
            raw = encode(records[0])
            self.writes.append(took)
            self.raws.append(ms(lambda: self._raw.write(raw)))
        self.running.wait(5.0)  # a keeper walks to the next hive

    def frames_of_an_empty_window(self) -> list[float]:
        """Return what drawing one word takes."""
        self.hand.show(Label(text="empty"))
        return [ms(drawn) for _ in range(50)]


if __name__ == "__main__":
    bench = Bench(Path(sys.argv[1]))
    bench.rounds(ROUNDS)
    told(
        [],
        widgets=bench.widgets,
        widgets_busy=bench.widgets_busy,
        ways=bench.ways,
        ways_busy=bench.ways_busy,
        frames=bench.frames,
        writes=bench.writes,
        raws=bench.raws,
        empty_frames=bench.frames_of_an_empty_window(),
    )
