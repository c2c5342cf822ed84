"""Answers of other programs of the phone, each given to who asked for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

#: What a program's page ends with when it gives something: Android's Activity.RESULT_OK.
OK = -1
#: Numbers of requests from here on are ours; the system's own questions have small ones.
FIRST = 7000

#: Called with whether something is given, and the intent that carries it.
Answered = Callable[[bool, Any], None]


class Results:
    """Knows who waits for which answer. Answers come on another thread."""

    def __init__(self) -> None:
        self._waiting: dict[int, Answered] = {}
        self._next = FIRST
        self._bound = False

    def ask(self, open_: Callable[[int], None], answered: Answered) -> None:
        """Open a page of another program by the number that `open_` is given.

        Raises what `open_` raises, where there is no such program; then nobody waits.
        """
        if not self._bound:
            from android.activity import bind  # noqa: PLC0415  (only on a phone)

            bind(on_activity_result=self._result)
            self._bound = True
        request, self._next = self._next, self._next + 1
        self._waiting[request] = answered
        try:
            open_(request)
        except BaseException:
            del self._waiting[request]
            raise

    def _result(self, request: int, code: int, intent: Any) -> None:
        answered = self._waiting.pop(request, None)
        if answered is not None:
            answered(code == OK, intent)
