"""What can go wrong in a use case, in words for the keeper. Nothing saved before is lost."""

from __future__ import annotations

from fieldapp.words import Phrase, Speech, say


class RoundsError(Exception):
    """Root of this package's errors. `phrase` says what was wrong and what to do."""

    def __init__(self, phrase: Phrase) -> None:
        super().__init__(Speech()(phrase))
        self.phrase = phrase


class NotSaved(RoundsError, OSError):
    """A tap that did not reach the disk."""


class TreatmentGone(RoundsError, LookupError):
    """A treatment that neither the records nor the library has."""

    def __init__(self, identity: str) -> None:
        super().__init__(
            say(
                "The treatment {identity} is not in this library. Bring the program up to date, "
                "or choose another. Nothing was logged.",
                identity=identity,
            )
        )
