"""One line that tells, as pages show it: a sign, words, and why."""

from __future__ import annotations

from typing import Literal, NamedTuple

from fieldapp.words import Phrase

Sign = Literal["done", "due", "late", "closed", "quiet", "unknown"]


class Told(NamedTuple):
    """One line of a page: its sign and words, and why."""

    sign: Sign
    words: Phrase
    why: tuple[Phrase, ...] = ()
