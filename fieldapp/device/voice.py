"""A few spoken words, where the device has a voice."""

from __future__ import annotations

import logging
import queue
import shutil
import threading
from typing import Protocol

log = logging.getLogger(__name__)


class Voice(Protocol):
    """Speaks short texts, the newest last, without holding up the screen."""

    there: bool

    def speak(self, text: str) -> None:
        """Speak, after what is being spoken."""


class NoVoice:
    """A machine without a voice."""

    there = False

    def speak(self, text: str) -> None:
        """Do nothing."""


class PlyerVoice:
    """The device's voice through plyer, in a thread of its own. What is stale is left out."""

    def __init__(self) -> None:
        self.there = True
        self._texts: queue.SimpleQueue[str] = queue.SimpleQueue()
        self._thread: threading.Thread | None = None

    def speak(self, text: str) -> None:
        """Hand the text to the thread; of several waiting only the newest is spoken."""
        if not self.there:
            return
        self._texts.put(text)
        if self._thread is None or not self._thread.is_alive():
            self._thread = threading.Thread(target=self._run, name="voice", daemon=True)
            self._thread.start()

    def _run(self) -> None:
        while True:
            try:
                text = self._texts.get(timeout=1.0)
                while not self._texts.empty():
                    text = self._texts.get_nowait()
            except queue.Empty:
                return
            try:
                from plyer import tts  # noqa: PLC0415  (plyer is loaded when first used)

                tts.speak(message=text)
            except Exception as error:
                log.info("no voice: %s", error)
                self.there = False
                return


def desktop_voice() -> Voice:
    """Return a voice if this computer has a program that speaks."""
    return PlyerVoice() if shutil.which("espeak") or shutil.which("flite") else NoVoice()
