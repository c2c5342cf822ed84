"""The one root of the server's own errors. Each says what was wrong and what to do."""

from __future__ import annotations

from fieldapp.words import Phrase, Speech


class ServerError(Exception):
    """Something that a person should read: what was wrong, and what to do about it.

    What can stand on a page is a phrase; what only a terminal shows may be a text.
    """

    def __init__(self, what: Phrase | str, do: Phrase | str = "") -> None:
        speech = Speech()
        super().__init__(f"{speech(what)} {speech(do)}".strip())
        self.what = what
        self.do = do
