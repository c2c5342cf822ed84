"""What is left of records that were altered or are missing: bytes set aside, and holes.

Bytes that do not fit their digest are no record any more, and count in nothing. They stay in
sight, in exports and in what is saved from a damaged file, because a person may still read in
them what a program may not believe.
"""

from __future__ import annotations

import base64
import sqlite3
from collections.abc import Sequence
from hashlib import sha256
from typing import Any, Final, Literal, NamedTuple

from fieldapp.journal import ids
from fieldapp.journal.chain import Place
from fieldapp.journal.reading import seen
from fieldapp.journal.schema import SET_ASIDE
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Branch, Tree

#: Why a record is not here.
Why = Literal["missing", "altered", "too large"]

#: Bytes that one line of an export holds.
_PIECE: Final = 48 * 1024


class Stood(NamedTuple):
    """Bytes set aside, or waiting: at which seq they stood, by which digest, what they are."""

    seq: int
    digest: bytes
    raw: bytes


class Known(NamedTuple):
    """A hole as it is kept: see `holes.Hole`. `before` and `digest` are those of its first.

    `above` is the digest of the record right above it, None where none was known.
    """

    writer: bytes
    first: int
    last: int
    before: bytes | None
    digest: bytes | None
    why: str
    lost: int
    above: bytes | None = None


def asides(journal: Journal) -> list[Stood]:
    """Return the bytes that were set aside, in the order in which they had arrived."""
    with journal.connections.reading() as connection:
        rows = connection.execute(
            "SELECT seq, digest, raw FROM record WHERE standing = ? AND standing <> 0 "
            "ORDER BY seq, digest, raw",
            (SET_ASIDE,),
        )
        return [Stood(*row) for row in rows]


def waiting(journal: Journal, branch: Branch) -> list[Stood]:
    """Return the records that wait above a hole on `branch`, in their order."""
    query = "SELECT seq, digest, raw FROM record WHERE branch = ? ORDER BY seq"
    return [Stood(**row) for row in _queried(journal, query, branch.number)]


def known(journal: Journal) -> list[Known]:
    """Return the holes that are known and not yet filled, as they are kept."""
    query = "SELECT * FROM hole ORDER BY writer, first, last, digest, above"
    return [Known(**row) for row in _queried(journal, query)]


def _queried(journal: Journal, query: str, *values: object) -> list[dict[str, Any]]:
    from sqlite_utils import Database  # noqa: PLC0415 - off the start path

    with journal.connections.reading() as connection:
        return list(Database(connection, execute_plugins=False).query(query, values))


def keep_aside(connection: sqlite3.Connection, aside: Stood) -> None:
    """Set bytes aside in another journal than the one that found them; twice changes nothing."""
    said = seen(aside.raw)
    ident = ids.in_bytes(said.id) if said.id else sha256(aside.raw).digest()[:16]
    connection.execute(
        "INSERT INTO record (branch, seq, digest, ident, standing, raw) "
        "SELECT NULL, ?1, ?2, ?3, ?4, ?5 WHERE NOT EXISTS (SELECT 1 FROM record "
        "WHERE ident = ?3 AND standing <> 0 AND standing = ?4 AND digest = ?2 AND raw = ?5)",
        (aside.seq, aside.digest, ident, SET_ASIDE, aside.raw),
    )


def keep_hole(connection: sqlite3.Connection, hole: Known) -> None:
    """Keep a hole that another journal knew of, unless what was missing there stands here."""
    tree = Tree(connection, hole.writer)
    above = tree.standing(Place(hole.writer, hole.last + 1, hole.above)) if hole.above else None
    if hole.digest is not None:
        filled = tree.holds(Place(hole.writer, hole.first, hole.digest))
    elif above:
        filled = tree.attached(above)
    else:
        filled = any(head.seq >= hole.last for head in tree.vector())
    if not filled:
        connection.execute("INSERT OR IGNORE INTO hole VALUES (?, ?, ?, ?, ?, ?, ?, ?)", hole)


def note_gap(journal: Journal, above: Place) -> None:
    """Keep as a hole what is missing right under a record that waits, down to the next one."""
    with journal.connections.writing() as connection:
        tree = Tree(connection, above.writer)
        tips = [tip[0] for branch in tree.branches.values() if (tip := tree.tip(branch))]
        below = max((seq for seq in tips if seq < above.seq), default=0)
        if below + 1 < above.seq:
            last = above.seq - 1
            gap = Known(above.writer, below + 1, last, None, None, "missing", 0, above.digest)
            keep_hole(connection, gap)


def lines_of(aside: Stood) -> tuple[dict[str, Any], list[bytes]]:
    """Return what an export says of bytes set aside, and the bytes as lines of base 64.

    They may hold anything, line feeds too, and are no record that had to keep its form.
    """
    pieces = [aside.raw[at : at + _PIECE] for at in range(0, len(aside.raw), _PIECE)]
    stated = {"seq": aside.seq, "digest": aside.digest.hex(), "lines": len(pieces)}
    return stated, [base64.b64encode(piece) for piece in pieces]


def from_lines(stated: dict[str, Any], lines: Sequence[bytes]) -> Stood:
    """Return the bytes set aside that `lines_of` wrote."""
    raw = b"".join(map(base64.b64decode, lines))
    return Stood(stated["seq"], bytes.fromhex(stated["digest"]), raw)


def form_of(hole: Known) -> dict[str, Any]:
    """Return what an export says of a hole; a digest that is not known is left out."""
    return {
        name: value.hex() if isinstance(value, bytes) else value
        for name, value in hole._asdict().items()
        if value is not None
    }


def from_form(stated: dict[str, Any]) -> Known:
    """Return the hole that `form_of` wrote."""
    before, digest, above = (
        bytes.fromhex(stated[name]) if name in stated else None
        for name in ("before", "digest", "above")
    )
    return Known(
        bytes.fromhex(stated["writer"]),
        stated["first"],
        stated["last"],
        before,
        digest,
        stated["why"],
        stated["lost"],
        above,
    )
