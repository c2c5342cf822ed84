"""Losses: telling, once, which records no replica brought back."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from typing import NamedTuple

from fieldapp.journal import chain
from fieldapp.journal.chain import Place
from fieldapp.journal.reading import decode
from fieldapp.journal.record import Draft, Record
from fieldapp.journal.schema import SET_ASIDE
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Tree


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
    above: bytes | None


_Ranges = list[tuple[int, int]]


class Missing(NamedTuple):
    """A hole that is not told yet: what of it stands nowhere, and what no record tells."""

    hole: _Hole
    missing: _Ranges
    untold: _Ranges


def missing(connection: sqlite3.Connection) -> list[Missing]:
    """Return what is missing in the holes that are not told yet.

    What stands elsewhere is not missing, and what a ``loss`` record tells is not told again.
    """
    rows = connection.execute(
        "SELECT rowid, writer, first, last, before, digest, why, above FROM hole "
        "WHERE lost = 0 ORDER BY writer, first, last DESC"
    ).fetchall()
    told: dict[bytes, _Ranges] = {}
    found = []
    for hole in (_Hole(*row) for row in rows):
        here, losses = _here_and_told(connection, hole)
        gaps = list(_without((hole.first, hole.last), here))
        # Of two forks the same numbers are told once: a loss names no branch.
        known = told.setdefault(hole.writer, [])
        untold = [part for gap in gaps for part in _without(gap, losses + known)]
        known += untold
        found.append(Missing(hole, gaps, untold))
    return found


def tell(
    journal: Journal, connection: sqlite3.Connection, found: list[Missing], finder: Finder
) -> None:
    """Write a ``loss`` record for what is missing and untold, and keep that it is told."""
    for hole, gaps, untold in found:
        connection.execute("DELETE FROM hole WHERE rowid = ?", (hole.rowid,))
        connection.executemany(
            "INSERT OR REPLACE INTO hole (writer, first, last, before, digest, why, lost, above) "
            "VALUES (?, ?, ?, ?, ?, ?, 1, ?)",
            [
                (
                    hole.writer,
                    first,
                    last,
                    hole.before if first == hole.first else None,
                    hole.digest,
                    hole.why,
                    hole.above if last == hole.last else None,
                )
                for first, last in gaps
            ],
        )
        journal.write_in(
            connection,
            [_loss(hole.writer, first, last, finder) for first, last in untold],
        )


def _loss(writer: bytes, first: int, last: int, finder: Finder) -> Draft:
    body = {"of": writer.hex(), "first": first, "last": last, "finder": finder.device}
    return Draft("loss", finder.happened, finder.keeper, body)


def _here_and_told(connection: sqlite3.Connection, hole: _Hole) -> tuple[_Ranges, _Ranges]:
    """Return which records of `hole` are on this disk, and which a ``loss`` record tells."""
    here: _Ranges = []
    told: _Ranges = []
    others = _others(connection, hole)
    for (raw,) in connection.execute(
        "SELECT raw FROM record WHERE standing <> ? AND instr(raw, ?)",
        (SET_ASIDE, hole.writer.hex().encode()),
    ):
        record = decode(raw)
        if not isinstance(record, Record):
            continue
        if record.writer == hole.writer.hex() and _fits(hole, raw) and raw not in others:
            here.append((record.seq, record.seq))
        if record.kind == "loss" and record.body["of"] == hole.writer.hex():
            told.append((record.body["first"], record.body["last"]))
    return here, told


def _fits(hole: _Hole, raw: bytes) -> bool:
    """Return whether `raw` is the missing record, as far as digests can tell."""
    if hole.before is None or hole.digest is None:
        return True
    return chain.link(hole.before, raw) == hole.digest


def _others(connection: sqlite3.Connection, hole: _Hole) -> set[bytes]:
    """Return the records that stand at the numbers of `hole` on other branches of its writer.

    A branch that reaches its end, while what stood above it still waits, is another one; so is
    one that ends right under another hole.
    """
    tree = Tree(connection, hole.writer)
    above = tree.standing(Place(hole.writer, hole.last + 1, hole.above)) if hole.above else None
    if hole.digest is None and not above:
        return set()
    under_others = connection.execute(
        "SELECT first - 1, before FROM hole WHERE writer = ? AND rowid <> ?",
        (hole.writer, hole.rowid),
    ).fetchall()
    found = set()
    for branch in tree.branches.values():
        tip = tree.tip(branch)
        if tip is None or (tip[0] < hole.last and tip not in under_others):
            continue
        for stretch in tree.path(branch):
            found |= {
                raw
                for raw, digest in connection.execute(
                    "SELECT raw, digest FROM record WHERE branch = ? AND seq BETWEEN ? AND ?",
                    (
                        stretch.branch.number,
                        max(stretch.first, hole.first),
                        hole.last if stretch.last is None else min(stretch.last, hole.last),
                    ),
                )
                if digest != hole.digest
            }
    return found


def _without(gap: tuple[int, int], ranges: _Ranges) -> Iterator[tuple[int, int]]:
    """Yield what of `gap` lies in none of `ranges`; all with both ends included."""
    first, last = gap
    for start, end in sorted(ranges):
        if start > first and first <= last:
            yield first, min(start - 1, last)
        first = max(first, end + 1)
    if first <= last:
        yield first, last
