"""What the program could not do, in words: a fault of its own is never passed over in silence."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

from kivy.app import App
from kivy.base import ExceptionHandler, ExceptionManager
from kivy.core.window import Window

from fieldapp.rounds.faults import WORDS, FaultLog
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.look import Look, register_font
from fieldapp.screens.page import Page
from fieldapp.screens.parts import main_key, title
from fieldapp.screens.stage import BARS, Stage
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import THEMES
from fieldapp.screens.touch import Guard
from fieldapp.words import Phrase, Speech, say

NAME = "fault"


def page(look: Look, log: FaultLog, go_on: Act) -> Page:
    """Return what is told of a fault, with the way back to the first page."""
    return Page(
        look,
        head=[title(look, say("That went wrong"))],
        middle=_told(look, log),
        acts=[main_key(look, say("Go on"), go_on)],
        back=go_on,
        back_key=False,
        name=NAME,
    )


def _told(look: Look, log: FaultLog) -> list[Block]:
    wrong, sure = WORDS
    return [
        Tell(look, "late", wrong, bold=True),
        Words(look, sure),
        Words(look, log.where, "small"),
        Words(look, log.latest, "small"),
    ]


class Faults(ExceptionHandler):  # type: ignore[misc]  # Kivy has no types
    """Takes what nothing else took, on any thread: it is logged, and `show` shows the page.

    `main` runs a function on the screen's thread.
    """

    def __init__(self, log: FaultLog, show: Act, main: Callable[[Act], None]) -> None:
        self._log = log
        self._show = show
        self._main = main
        self._hook = threading.excepthook

    def begin(self) -> None:
        """Take faults from now on."""
        ExceptionManager.add_handler(self)
        self._hook, threading.excepthook = threading.excepthook, self._of_thread

    def end(self) -> None:
        """Leave them to others again."""
        ExceptionManager.remove_handler(self)
        threading.excepthook = self._hook

    def handle_exception(self, inst: BaseException) -> Any:
        """Keep the program running; what asks it to end is let through."""
        if not isinstance(inst, Exception):
            return ExceptionManager.RAISE
        self._log.write(inst)
        try:
            self._show()
        except Exception as error:
            self._log.write(error)
            return ExceptionManager.RAISE
        return ExceptionManager.PASS

    def _of_thread(self, args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None and not isinstance(args.exc_value, SystemExit):
            self._log.write(args.exc_value)
            self._main(self._show)


class FaultApp(App):  # type: ignore[misc]  # Kivy has no types
    """A window that says why the program could not start, where no terminal would."""

    def __init__(self, wrong: Phrase, log: FaultLog) -> None:
        super().__init__()
        self.title = "Apiary Rounds"
        self._wrong = wrong
        self._log = log

    def build(self) -> Stage:
        """Return the page; nothing on it acts, for there is nothing to go on with."""
        register_font()
        look = Look(THEMES["sun"], Speech())
        stage = Stage(Guard(lambda: 0.0), lambda _: None, BARS)
        stage.size = Window.size
        stage.show(
            Page(
                look,
                head=[title(look, say("The program could not start"))],
                middle=[Tell(look, "late", self._wrong), *_told(look, self._log)[2:]],
                name=NAME,
            )
        )
        return stage
