"""A journal as a text file: JSON Lines, each record in its exact bytes, with what proves them.

The first line says what the file is. Then come batches: a line that names writer, first seq,
the digests before and after and how many records follow, then the records, one a line.
Reading it back is a sync by file: the same checks, and what is held already is not doubled.
"""

from __future__ import annotations

import json
from collections import deque
from collections.abc import Iterator
from typing import Any, BinaryIO, Final, NamedTuple

from fieldapp.journal import chain, filling
from fieldapp.journal.batches import Batch, Misfit, batches
from fieldapp.journal.chain import Place
from fieldapp.journal.errors import NotAJournal, TooNew
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import MOST_BYTES
from fieldapp.journal.store import Journal
from fieldapp.journal.tree import Branch, Tree
from fieldapp.words import Phrase, say

VERSION: Final = 1
_KEY: Final = "apiary-rounds-journal"
#: Small batches: where one line is damaged, its batch is not taken.
_RECORDS: Final = 100
_LONGEST_LINE: Final = MOST_BYTES * 4


class Fault(NamedTuple):
    """Lines that were not taken, both ends included and counted from 1, and why."""

    first: int
    last: int
    phrase: Phrase


class Imported(NamedTuple):
    """What came of reading a file: records new here, records read, and what was not taken."""

    new: int
    read: int
    faults: tuple[Fault, ...]


def export_lines(journal: Journal, file: BinaryIO) -> int:
    """Write the whole journal to `file` and return how many lines of records were written.

    Writers in order, so equal journals give equal files. A record that does not fit its digest
    is not written: `holes.verify` first.
    """
    with journal.connections.reading() as connection:
        tree = Tree(connection)
        heads = sorted((head, branch) for head, branch in tree.heads())
        waiting = sorted(tree.above_holes(), key=lambda b: (b.writer, b.first, b.number))
        vector = tree.vector().hash()
    _write(file, {_KEY: VERSION, "vector": vector.hex()})
    written = 0
    # A branch comes after the one that it grows from.
    for head, branch in sorted(heads, key=lambda each: (each[0].writer, each[1].first, each[0])):
        try:
            for batch in batches(journal, head, branch.first - 1, _RECORDS):
                _write(file, {"batch": _stated(batch)})
                written += _write_records(file, batch.records)
        except Misfit:
            continue
    for branch in waiting:
        written += _write_waiting(journal, file, branch)
    return written


def _stated(batch: Batch) -> dict[str, Any]:
    return {
        "writer": batch.writer.hex(),
        "first": batch.first,
        "before": batch.before.hex(),
        "after": batch.after.hex(),
        "records": len(batch.records),
    }


def _write(file: BinaryIO, line: dict[str, Any]) -> None:
    file.write(json.dumps(line, separators=(",", ":")).encode() + b"\n")


def _write_records(file: BinaryIO, records: tuple[bytes, ...]) -> int:
    file.write(b"".join(raw + b"\n" for raw in records))
    return len(records)


def _write_waiting(journal: Journal, file: BinaryIO, branch: Branch) -> int:
    """Write what stands above a hole: no digest before proves it, so it says the first's own."""
    with journal.connections.reading() as connection:
        rows = connection.execute(
            "SELECT seq, digest, raw FROM record WHERE branch = ? ORDER BY seq", (branch.number,)
        ).fetchall()
    for start in range(0, len(rows), _RECORDS):
        part = rows[start : start + _RECORDS]
        line = {
            "writer": branch.writer.hex(),
            "first": part[0][0],
            "digest": part[0][1].hex(),
            "records": len(part),
        }
        _write(file, {"waiting": line})
        _write_records(file, tuple(raw for _, _, raw in part))
    return len(rows)


class _Lines:
    """The lines of a file by number, which can be put back."""

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        self._back: deque[bytes] = deque()
        self.number = 0

    def next(self) -> bytes | None:
        """Return the next line without its end, None at the end of the file."""
        line = self._back.popleft() if self._back else self._file.readline(_LONGEST_LINE)
        if not line:
            return None
        self.number += 1
        return line

    def back(self, lines: list[bytes]) -> None:
        """Put back lines that were read last."""
        self._back.extendleft(reversed(lines))
        self.number -= len(lines)


def import_lines(journal: Journal, file: BinaryIO, name: str) -> Imported:
    """Take in the records of a file that `export_lines` wrote.

    A line that was changed, cut off or is missing spoils its batch of at most 100 and no more;
    each fault says which lines were not taken. `name` is what messages call the file.

    :raises NotAJournal: where the file is something else.
    :raises TooNew: where a later version of this program wrote it.
    """
    lines = _Lines(file)
    head = _object(lines.next() or b"")
    if type(head.get(_KEY)) is not int:
        raise NotAJournal(name)
    if head[_KEY] > VERSION:
        raise TooNew(name)
    new = read = 0
    faults: list[Fault] = []
    while (line := lines.next()) is not None:
        at = lines.number
        stated = _header(line)
        if stated is None:
            _add(faults, Fault(at, at, say("This line belongs to no batch; export again.")))
            continue
        records = list(_take_lines(lines, stated["records"]))
        taken = _take(journal, stated, records)
        if taken is None:
            following = next((i for i, raw in enumerate(records) if _header(raw)), len(records))
            lines.back(records[following:])
            why = say("A line of this batch was changed, cut off or is missing; export again.")
            faults.append(Fault(at, lines.number, why))
            continue
        new += taken
        read += len(records)
    return Imported(new, read, tuple(faults))


def _add(faults: list[Fault], fault: Fault) -> None:
    """Add a fault; lines in a row that have the same are one."""
    last = faults[-1] if faults else None
    if last and last.phrase == fault.phrase and last.last == fault.first - 1:
        faults[-1] = last._replace(last=fault.last)
    else:
        faults.append(fault)


def _take_lines(lines: _Lines, count: int) -> Iterator[bytes]:
    for _ in range(count):
        if (line := lines.next()) is None:
            return
        yield line


def _take(journal: Journal, stated: dict[str, Any], lines: list[bytes]) -> int | None:
    """Take a batch in and return how many records were new; None where it does not fit."""
    if len(lines) < stated["records"] or not all(line.endswith(b"\n") for line in lines):
        return None
    records = tuple(line[:-1] for line in lines)
    writer = bytes.fromhex(stated["writer"])
    if "digest" in stated:
        place = Place(writer, stated["first"], bytes.fromhex(stated["digest"]))
        return filling.adopt(journal, place, records)
    before, after = bytes.fromhex(stated["before"]), bytes.fromhex(stated["after"])
    batch = Batch(writer, stated["first"], before, after, records)
    (receipt,) = receive(journal, [batch])
    if receipt.refused and receipt.refused.why == "digest before":
        # A batch before it was damaged: this one is whole, and waits above the hole.
        first = Place(writer, batch.first, chain.link(before, records[0]))
        return filling.adopt(journal, first, records)
    return None if receipt.refused else receipt.new


_HEX_FIELDS = {"writer": 32, "before": 64, "after": 64, "digest": 64}


def _header(line: bytes) -> dict[str, Any] | None:
    """Return what a batch's first line states, None where `line` is none."""
    value = _object(line)
    for key, names in (
        ("batch", ("writer", "first", "before", "after", "records")),
        ("waiting", ("writer", "first", "digest", "records")),
    ):
        stated = value.get(key)
        if type(stated) is dict and all(_states(stated, name) for name in names):
            return stated
    return None


def _states(stated: dict[str, Any], name: str) -> bool:
    value = stated.get(name)
    if name not in _HEX_FIELDS:
        return type(value) is int and value > 0
    try:
        return type(value) is str and len(bytes.fromhex(value)) * 2 == _HEX_FIELDS[name]
    except ValueError:
        return False


def _object(line: bytes) -> dict[str, Any]:
    try:
        value = json.loads(line)
    except (ValueError, RecursionError):
        return {}
    return value if type(value) is dict else {}
