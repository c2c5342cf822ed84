"""What can be wrong with the treatment library or with a treatment that a keeper enters."""

from __future__ import annotations

from fieldapp.words import Phrase, Speech


class LibraryError(ValueError):
    """A treatment cannot be read: `where` says the file and place, `expected` what fits there."""

    def __init__(self, where: str, expected: Phrase | str) -> None:
        super().__init__(f"{where}: expected {Speech()(expected)}.")
        self.where = where
        self.expected = expected
