"""What is missing or does not fit in the books, by name."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.words import Phrase


class Gap(NamedTuple):
    """One thing the books cannot vouch for, in words, and the root ids it is about.

    `what` is one word for it: ``difference`` (counted otherwise than the books say), ``over``
    (more taken than there was), ``amount`` (nobody said how much), ``unit`` (units that do not
    go together), ``lot`` (a lot that is not in the books), ``expired`` (used after its last
    day), ``before`` (used before it was there), ``missing`` (a field that a law wants),
    ``no lot`` (a treatment that names none), ``hours`` (running time that no gear is named
    for) or ``standstill`` (done while it was set).
    """

    what: str
    phrase: Phrase
    records: tuple[str, ...]
