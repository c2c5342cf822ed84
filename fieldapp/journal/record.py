"""One record: what it says, and the exact bytes that say it."""

from __future__ import annotations

import json
from typing import Any, Final, NamedTuple

from fieldapp.words import Phrase

#: A record over this many bytes is refused by every replica.
MOST_BYTES: Final = 65536

#: Ids that a record may name beside those that all have.
NAMES: Final = ("apiary", "hive", "colony", "adds_to")


class Record(NamedTuple):
    """One immutable entry of the journal, decoded.

    `happened` is RFC 9557 text whose first ten characters are the civil date; `stamp` is the
    hybrid logical clock (16 hex digits); `writer` and `seq` say where it was first written.
    A correction has `corrects` (the root's id) and `heads` (the ids that its author saw); an
    annex has `adds_to` (the root's id).
    """

    id: str
    kind: str
    v: int
    happened: str
    stamp: str
    writer: str
    seq: int
    keeper: str
    body: dict[str, Any]
    apiary: str | None = None
    hive: str | None = None
    colony: str | None = None
    corrects: str | None = None
    heads: tuple[str, ...] = ()
    void: bool = False
    adds_to: str | None = None

    @property
    def day(self) -> str:
        """The civil date, ``2026-07-04``, never recomputed from the instant."""
        return self.happened[:10]


class Draft(NamedTuple):
    """What a use case wants written: a record without id, stamp, writer and seq.

    `id` may be given where another draft of the same transaction must name it.
    """

    kind: str
    happened: str
    keeper: str
    body: dict[str, Any]
    v: int = 1
    apiary: str | None = None
    hive: str | None = None
    colony: str | None = None
    corrects: str | None = None
    heads: tuple[str, ...] = ()
    void: bool = False
    adds_to: str | None = None
    id: str | None = None


class NotUnderstood(NamedTuple):
    """A record that takes part in no rule, and why. It is stored, passed on and shown.

    `field` is where, empty for the whole; `expected` is what would have been understood.
    `id`, `kind` and `stamp` are given where they could be read.
    """

    field: str
    expected: Phrase
    id: str | None = None
    kind: str | None = None
    stamp: str | None = None


def encode(record: Record) -> bytes:
    """Return the bytes of a record that is about to be written for the first time.

    Whatever comes after keeps these bytes; nothing encodes a record again. A field that is
    None is left out.

    :raises ValueError: for a number that JSON cannot write.
    """
    envelope: dict[str, Any] = {
        "id": record.id,
        "kind": record.kind,
        "v": record.v,
        "happened": record.happened,
        "stamp": record.stamp,
        "writer": record.writer,
        "seq": record.seq,
        "keeper": record.keeper,
    }
    for name in NAMES:
        if (value := getattr(record, name)) is not None:
            envelope[name] = value
    if record.corrects is not None:
        envelope["corrects"] = record.corrects
        envelope["heads"] = list(record.heads)
        envelope["void"] = record.void
    envelope["body"] = record.body
    return json.dumps(envelope, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
