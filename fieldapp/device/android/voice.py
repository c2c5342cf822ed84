"""The phone's own voice."""

from __future__ import annotations

import logging
from functools import cache
from typing import Any

from fieldapp.device.android.java import activity, java

log = logging.getLogger(__name__)

SUCCESS = 0
QUEUE_ADD = 1


class AndroidVoice:
    """Speaks by TextToSpeech, which starts at the first words and queues by itself."""

    def __init__(self) -> None:
        self.there = True
        self._speech: Any = None
        self._ready = False
        self._waiting: tuple[str, str] | None = None
        self._language = ""

    def speak(self, text: str, language: str) -> None:
        """Speak after what is being spoken; while the voice starts, the newest words wait.

        Where the phone has no voice for the language, its own speaks.
        """
        if not self.there:
            return
        try:
            if self._speech is None:
                self._waiting = text, language
                self._listener = _listener_class()(self._started)
                self._speech = java("android.speech.tts.TextToSpeech")(activity(), self._listener)
            elif not self._ready:
                self._waiting = text, language
            else:
                self._say(text, language)
        except Exception as error:  # whatever Java throws: the screen says it too
            log.info("no voice: %s", error)
            self.there = False

    def _started(self, status: int) -> None:
        # May be called before the constructor has returned: then there is nothing to speak with.
        self._ready = self.there = status == SUCCESS
        if self._ready and self._speech is not None and self._waiting is not None:
            self._say(*self._waiting)

    def _say(self, text: str, language: str) -> None:
        self._waiting = None
        if language != self._language:
            self._language = language
            self._speech.setLanguage(java("java.util.Locale").forLanguageTag(language))
        self._speech.speak(text, QUEUE_ADD, None, text)


@cache
def _listener_class() -> Any:
    from jnius import PythonJavaClass, java_method  # noqa: PLC0415  (only where Java is)

    class Listener(PythonJavaClass):
        """Java's OnInitListener."""

        __javainterfaces__ = ("android/speech/tts/TextToSpeech$OnInitListener",)

        def __init__(self, started: Any) -> None:
            super().__init__()
            self._started = started

        @java_method("(I)V", name="onInit")
        def init(self, status: int) -> None:
            self._started(status)

    return Listener
