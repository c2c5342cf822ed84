"""What needs an eye, in words, each with its place and reason: it stays in sight until it is gone.

Not understood, of two contents under one id, refused, missing, set aside. The same on the phone
and on the server's pages.
"""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from fieldapp.journal.called import field_called, kind_called
from fieldapp.journal.contents import Kept
from fieldapp.journal.holes import holes
from fieldapp.journal.refusals import Refusal, Why, refused
from fieldapp.journal.remains import Stood, asides
from fieldapp.journal.store import Journal
from fieldapp.words import Phrase, count, say

#: Why a record was refused.
REFUSED: Final[dict[Why, Phrase]] = {
    "too large": say("it is larger than a record may be"),
    "not one line": say("it is not one line of text"),
    "digest before": say("what should stand before it is missing"),
    "digest after": say("it did not arrive as it was sent"),
}
_MISSING: Final = {
    "missing": say("missing"),
    "altered": say("altered after they were written"),
    "too large": say("larger than a record may be"),
}
#: Bytes of altered ones that a page shows.
_SHOWN: Final = 400


class Odd(NamedTuple):
    """One of them: what is odd, and where it stands."""

    words: Phrase
    place: Phrase


def not_understood(journal: Journal) -> list[Odd]:
    """Return the records that take part in no rule, and what would have been understood."""
    return [_kept(kept, _unread(kept)) for kept in journal.not_understood()]


def other_contents(journal: Journal) -> list[Odd]:
    """Return what stands under an id of which another content counts."""
    words = say("a record whose id another one has: that other one counts")
    return [_kept(kept, words) for kept in journal.other_contents()]


def not_taken(journal: Journal, by: Literal["us", "them"]) -> list[Odd]:
    """Return what this side refused (`us`), or the other of what was sent to it."""
    return [_refusal(one) for one in refused(journal, by)]


def missing(journal: Journal) -> list[Odd]:
    """Return the ranges of records that are missing or were found altered."""
    return [
        Odd(
            say(
                "records {first} to {last}: {why}",
                first=hole.first,
                last=hole.last,
                why=_MISSING[hole.why],
            ),
            _place(hole.writer, hole.first),
        )
        for hole in holes(journal)
    ]


def set_aside(journal: Journal) -> list[Odd]:
    """Return the bytes that do not fit their digest, as far as a page can show them."""
    return [
        Odd(
            count(
                "record {seq}: {n} byte", "record {seq}: {n} bytes", len(aside.raw), seq=aside.seq
            ),
            say("{text}", text=_shown(aside)),
        )
        for aside in asides(journal)
    ]


def _shown(aside: Stood) -> str:
    text = aside.raw[:_SHOWN].decode(errors="replace")
    return text if len(aside.raw) <= _SHOWN else f"{text} …"


def _kept(kept: Kept, words: Phrase) -> Odd:
    return Odd(words, _place(kept.writer, kept.seq))


def _unread(kept: Kept) -> Phrase:
    why = kept.why
    if why is None:
        return say("a record")
    return say(
        "{kind}: {field} should be {expected}",
        kind=kind_called(why.kind) if why.kind else say("a record"),
        field=field_called(why.field, why.kind or "") if why.field else say("the whole"),
        expected=why.expected,
    )


def _refusal(one: Refusal) -> Odd:
    words = say("{size} bytes: {why}", size=one.size, why=REFUSED[one.why])
    return Odd(words, _place(one.writer.hex(), one.seq))


def _place(writer: str, seq: int) -> Phrase:
    # In groups, so that a narrow line can break it and an eye can follow it.
    grouped = " ".join(writer[at : at + 8] for at in range(0, len(writer), 8))
    return say("writer {writer}, record {seq}", writer=grouped, seq=seq)
