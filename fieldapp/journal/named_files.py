"""Which files the records of a journal name: those that stand, and those that were taken back."""

from __future__ import annotations

from typing import Final, NamedTuple

from fieldapp.journal.corrections import sort_out
from fieldapp.journal.reading import decode
from fieldapp.journal.record import Record
from fieldapp.journal.schema import COUNTS
from fieldapp.journal.store import Journal

#: Kinds of annexes whose body names a file.
KINDS: Final = frozenset({"photo", "voice"})
#: Stands in the bytes of each of their records. Few records have it: the others are not decoded.
_MARK: Final = b'"sha256"'


class NamedFiles(NamedTuple):
    """Files by their SHA-256: those that a record names, and those that only voided ones do.

    Where versions stand side by side, one that keeps the file is enough for it to stand.
    """

    standing: frozenset[str]
    taken_back: frozenset[str]


def named_files(journal: Journal) -> NamedFiles:
    """Return the files that annexes name. It looks at every record: not for the screen's thread."""
    with journal.connections.reading() as connection:
        raws = connection.execute(
            "SELECT raw FROM record WHERE standing = ? AND instr(raw, ?) ORDER BY arrival",
            (COUNTS, _MARK),
        ).fetchall()
    records = (decode(raw) for (raw,) in raws)
    annexes = sort_out(each for each in records if isinstance(each, Record) and each.kind in KINDS)
    named: set[str] = set()
    standing: set[str] = set()
    for version in annexes.versions.values():
        named.update(each.body["sha256"] for each in (version.root, *version.corrections))
        standing.update(each.body["sha256"] for each in version.open if not each.void)
    return NamedFiles(frozenset(standing), frozenset(named - standing))
