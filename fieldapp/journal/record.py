"""One record as decoded from its bytes."""

from __future__ import annotations

from typing import Any, NamedTuple


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
