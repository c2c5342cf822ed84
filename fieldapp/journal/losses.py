"""Losses: telling, once, which records no replica brought back."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from typing import NamedTuple

from fieldapp.journal import chain
from fieldapp.journal.reading import decode
from fieldapp.journal.record import Draft, Record
from fieldapp.journal.schema import SET_ASIDE
from fieldapp.journal.store import Journal


class Finder(NamedTuple):
    """Who tells a loss: the device in words, the keeper's id, and the moment (RFC 9557)."""

    device: str
    keeper: str
    happened: str


class _Hole(NamedTuple):
    rowid: int
    writer: bytes
    first: int
    last: int
    before: bytes | None
    digest: bytes | None
    why: str


def tell(journal: Journal, connection: sqlite3.Connection, finder: Finder) -> None:
    """Write a ``loss`` record for what is missing in the holes that are not told yet.

    What stands elsewhere is not missing, and what a ``loss`` record tells is not told again.
    """
    for row in connection.execute(
        "SELECT rowid, writer, first, last, before, digest, why FROM hole WHERE lost = 0"
    ).fetchall():
        hole = _Hole(*row)
        missing, untold = _missing(connection, hole)
        connection.execute("DELETE FROM hole WHERE rowid = ?", (hole.rowid,))
        connection.executemany(
            "INSERT OR REPLACE INTO hole (writer, first, last, before, digest, why, lost) "
            "VALUES (?, ?, ?, ?, ?, ?, 1)",
            [
                (hole.writer, first, last, hole.before, hole.digest, hole.why)
                for first, last in missing
            ],
        )
        journal.write_in(
            connection,
            [_loss(hole.writer, first, last, finder) for first, last in untold],
        )


def _loss(writer: bytes, first: int, last: int, finder: Finder) -> Draft:
    body = {"of": writer.hex(), "first": first, "last": last, "finder": finder.device}
    return Draft("loss", finder.happened, finder.keeper, body)


_Ranges = list[tuple[int, int]]


def _missing(connection: sqlite3.Connection, hole: _Hole) -> tuple[_Ranges, _Ranges]:
    """Return what of `hole` stands nowhere on this disk, and what of that no record tells."""
    here: _Ranges = []
    told: _Ranges = []
    for (raw,) in connection.execute(
        "SELECT raw FROM record WHERE standing <> ? AND instr(raw, ?)",
        (SET_ASIDE, hole.writer.hex().encode()),
    ):
        record = decode(raw)
        if not isinstance(record, Record):
            continue
        if record.writer == hole.writer.hex() and _fits(hole, raw):
            here.append((record.seq, record.seq))
        if record.kind == "loss" and record.body["of"] == hole.writer.hex():
            told.append((record.body["first"], record.body["last"]))
    missing = list(_without((hole.first, hole.last), here))
    return missing, [part for gap in missing for part in _without(gap, told)]


def _fits(hole: _Hole, raw: bytes) -> bool:
    """Return whether `raw` is the missing record, as far as digests can tell."""
    if hole.before is None or hole.digest is None:
        return True
    return chain.link(hole.before, raw) == hole.digest


def _without(gap: tuple[int, int], ranges: _Ranges) -> Iterator[tuple[int, int]]:
    """Yield what of `gap` lies in none of `ranges`; all with both ends included."""
    first, last = gap
    for start, end in sorted(ranges):
        if start > first and first <= last:
            yield first, min(start - 1, last)
        first = max(first, end + 1)
    if first <= last:
        yield first, last
