"""What the rules cannot work with, said to a person."""

from __future__ import annotations

from fieldapp.words import Phrase
from fieldapp.words.speech import Speech


class HusbandryError(ValueError):
    """The root of this package's errors: a figure that cannot be, and what to do about it.

    `phrase` says it to the keeper, to be spoken in the keeper's language.
    """

    def __init__(self, phrase: Phrase) -> None:
        super().__init__(Speech()(phrase))
        self.phrase = phrase


class Unfitting(HusbandryError):
    """A figure entered or read that cannot be as it stands."""


class Damaged(HusbandryError):
    """A table of figures that came with the app is damaged or incomplete."""
