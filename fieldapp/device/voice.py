"""A few spoken words, where the device has a voice."""

from __future__ import annotations

import logging
import queue
import shutil
import subprocess
import threading
from collections.abc import Callable, Sequence
from typing import Protocol

log = logging.getLogger(__name__)


class Voice(Protocol):
    """Speaks short texts, the newest last, without holding up the screen."""

    there: bool

    def speak(self, text: str, language: str) -> None:
        """Speak in a language (BCP 47), after what is being spoken."""


class NoVoice:
    """A machine without a voice."""

    there = False

    def speak(self, text: str, language: str) -> None:
        """Do nothing."""


class ProgramVoice:
    """A program that speaks, called in a thread of its own. What is stale is left out.

    `command` gives its arguments for a language; the text is put into it.
    """

    def __init__(self, command: Callable[[str], Sequence[str]]) -> None:
        self.there = True
        self._command = command
        self._texts: queue.SimpleQueue[tuple[str, str]] = queue.SimpleQueue()
        self._thread: threading.Thread | None = None

    def speak(self, text: str, language: str) -> None:
        """Hand the text to the thread; of several waiting only the newest is spoken."""
        if not self.there:
            return
        self._texts.put((text, language))
        if self._thread is None or not self._thread.is_alive():
            self._thread = threading.Thread(target=self._run, name="voice", daemon=True)
            self._thread.start()

    def _run(self) -> None:
        while True:
            try:
                text, language = self._texts.get(timeout=1.0)
                while not self._texts.empty():
                    text, language = self._texts.get_nowait()
            except queue.Empty:
                return
            try:
                subprocess.run(  # noqa: S603  (the program that was found; the text is no argument)
                    self._command(language),
                    input=text.encode(),
                    stdout=subprocess.DEVNULL,
                    stderr=subprocess.DEVNULL,
                    check=True,
                )
            except (OSError, subprocess.CalledProcessError) as error:
                log.info("no voice: %s", error)
                self.there = False
                return


def desktop_voice() -> Voice:
    """Return a voice if this computer has a program that speaks.

    espeak has one for every language of the app; flite speaks English alone.
    """
    espeak = shutil.which("espeak-ng") or shutil.which("espeak")
    if espeak is not None:
        return ProgramVoice(lambda language: (espeak, "-v", language, "--stdin"))
    flite = shutil.which("flite")
    return NoVoice() if flite is None else ProgramVoice(lambda _: (flite, "-t", "-"))
