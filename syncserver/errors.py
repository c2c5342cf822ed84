"""The one root of the server's own errors. Each says what was wrong and what to do."""

from __future__ import annotations


class ServerError(Exception):
    """Something that a person should read: what was wrong, and what to do about it."""

    def __init__(self, what: str, do: str = "") -> None:
        super().__init__(f"{what} {do}".strip())
        self.what = what
        self.do = do
