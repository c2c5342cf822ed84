"""What needs an eye on this phone, part by part, each record with its reason and its place."""

from __future__ import annotations

from typing import Final, NamedTuple

from fieldapp.journal import oddities
from fieldapp.journal.oddities import Odd
from fieldapp.journal.store import Journal
from fieldapp.words import Phrase, say

#: So many of a part are listed; the others are counted.
MOST: Final = 50


class Part(NamedTuple):
    """One part: what it is, what becomes of it, and the first of its records."""

    name: Phrase
    words: Phrase
    records: tuple[Odd, ...]
    more: int


def parts(journal: Journal) -> list[Part]:
    """Return the parts of which there is anything."""
    found = (
        (
            say("Not understood"),
            say(
                "Kept and passed on as they came, but part of no rule. A newer version may "
                "understand them."
            ),
            oddities.not_understood(journal),
        ),
        (
            say("Two contents under one id"),
            say("One counts, here and everywhere the same. The others are kept and passed on."),
            oddities.other_contents(journal),
        ),
        (
            say("Refused by this phone"),
            say("They are still where they came from, and come again with the next sync."),
            oddities.not_taken(journal, "us"),
        ),
        (
            say("Refused by the server"),
            say("They are kept here. A newer server may take them."),
            oddities.not_taken(journal, "them"),
        ),
        (
            say("Missing"),
            say("Found by the digests. The next syncs bring back what another side holds."),
            oddities.missing(journal),
        ),
        (
            say("Set aside"),
            say("These bytes do not fit their digest and count in nothing. They are kept."),
            oddities.set_aside(journal),
        ),
    )
    return [
        Part(name, words, tuple(odd[:MOST]), max(0, len(odd) - MOST))
        for name, words, odd in found
        if odd
    ]
