"""The records that need an eye: not understood, refused, missing; in words, with their place."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.journal.holes import holes
from fieldapp.journal.refusals import Refusal, refused
from fieldapp.journal.remains import Stood, asides
from fieldapp.journal.store import Journal, Kept
from fieldapp.words import Phrase, count, say
from fieldapp.words.speech import Speech

_WHY = {
    "too large": say("larger than a record may be"),
    "not one line": say("not one line of text"),
    "digest before": say("what should stand before it is missing"),
    "digest after": say("did not arrive as it was sent"),
}
_MISSING = {
    "missing": say("missing"),
    "altered": say("altered after they were written"),
    "too large": say("larger than a record may be"),
}

#: Bytes of altered ones that a page shows.
_SHOWN = 400


class Odd(NamedTuple):
    """One such record."""

    words: str
    place: str


def total(journal: Journal, speech: Speech) -> str:
    """Return how many records count."""
    return speech(count("{n} record", "{n} records", journal.count()))


def not_understood(journal: Journal, speech: Speech) -> list[Odd]:
    """Return the records that take part in no rule, and what would have been understood."""
    return [
        Odd(speech(_unread(kept)), _place(kept.writer, kept.seq))
        for kept in journal.not_understood()
    ]


def not_taken(journal: Journal, speech: Speech) -> list[Odd]:
    """Return what this server refused."""
    return [_refusal(one, speech) for one in refused(journal, "us")]


def missing(journal: Journal, speech: Speech) -> list[Odd]:
    """Return the ranges of records that are missing or were found altered."""
    return [
        Odd(
            speech(
                say(
                    "records {first} to {last}: {why}",
                    first=hole.first,
                    last=hole.last,
                    why=_MISSING[hole.why],
                )
            ),
            _place(hole.writer, hole.first),
        )
        for hole in holes(journal)
    ]


def set_aside(journal: Journal, speech: Speech) -> list[Odd]:
    """Return the bytes that do not fit their digest, as far as a line can show them."""
    return [
        Odd(
            speech(
                count("{n} byte: {text}", "{n} bytes: {text}", len(aside.raw), text=_shown(aside))
            ),
            f"record {aside.seq}",
        )
        for aside in asides(journal)
    ]


def _shown(aside: Stood) -> str:
    text = aside.raw[:_SHOWN].decode(errors="replace")
    return text if len(aside.raw) <= _SHOWN else f"{text} …"


def _unread(kept: Kept) -> Phrase:
    why = kept.why
    if why is None:
        return say("a record")
    return say(
        "{kind}: {field} should be {expected}",
        kind=why.kind or "record",
        field=why.field or "the whole",
        expected=why.expected,
    )


def _refusal(one: Refusal, speech: Speech) -> Odd:
    words = say("{size} bytes: {why}", size=one.size, why=_WHY[one.why])
    return Odd(speech(words), _place(one.writer.hex(), one.seq))


def _place(writer: str, seq: int) -> str:
    return f"writer {writer}, record {seq}"
