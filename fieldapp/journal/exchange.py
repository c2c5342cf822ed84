"""A journal as a text file: JSON Lines, each record in its exact bytes, with what proves them.

The first line says what the file is. Then come batches: a line that names writer, first seq,
the digests before and after and how many records follow, then the records, one a line. Last
come the holes, and the bytes that were set aside because they do not fit their digest.
Reading it back is a sync by file: the same checks, and what is held already is not doubled.
"""

from __future__ import annotations

import json
from collections import deque
from collections.abc import Iterator, Sequence
from hashlib import sha256
from typing import Any, BinaryIO, Final, NamedTuple, get_args

from fieldapp.journal import chain, filling, remains
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
_SEAL: Final = "sha256"
#: Small batches: where one line is damaged, its batch is not taken.
_RECORDS: Final = 100
_LONGEST_LINE: Final = MOST_BYTES * 4
#: What SQLite can count to; beyond 2^53 no seq of a record goes.
_LARGEST: Final = 2**53


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

    Writers in order, so equal journals give equal files. `holes.verify` first: a record that
    does not fit its digest is written only once it was set aside.
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
                written += _write_lines(file, batch.records)
        except Misfit:
            continue
    for branch in waiting:
        written += _write_waiting(journal, file, branch)
    for hole in remains.known(journal):
        _write_sealed(file, "hole", remains.form_of(hole), [])
    for aside in remains.asides(journal):
        _write_sealed(file, "aside", *remains.lines_of(aside))
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


def _write_lines(file: BinaryIO, lines: Sequence[bytes]) -> int:
    file.write(b"".join(line + b"\n" for line in lines))
    return len(lines)


def _write_waiting(journal: Journal, file: BinaryIO, branch: Branch) -> int:
    """Write what stands above a hole, by the first's own digest."""
    rows = remains.waiting(journal, branch)
    for start in range(0, len(rows), _RECORDS):
        part = rows[start : start + _RECORDS]
        line = {
            "writer": branch.writer.hex(),
            "first": part[0].seq,
            "digest": part[0].digest.hex(),
            "records": len(part),
        }
        _write_sealed(file, "waiting", line, [row.raw for row in part])
    return len(rows)


def _write_sealed(
    file: BinaryIO, form: str, stated: dict[str, Any], lines: Sequence[bytes]
) -> None:
    """Write what no chain of digests proves, so it says the SHA-256 of all of it."""
    _write(file, {form: {**stated, _SEAL: _seal(stated, lines)}})
    _write_lines(file, lines)


def _seal(stated: dict[str, Any], lines: Sequence[bytes]) -> str:
    head = json.dumps({name: value for name, value in stated.items() if name != _SEAL})
    return sha256(b"\n".join([head.encode(), *lines])).hexdigest()


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
        form, said = stated
        following = list(_take_lines(lines, _below(said)))
        taken = _take(journal, form, said, following)
        if taken is None:
            other = next((i for i, raw in enumerate(following) if _header(raw)), len(following))
            lines.back(following[other:])
            why = say("A line of this batch was changed, cut off or is missing; export again.")
            faults.append(Fault(at, lines.number, why))
            continue
        new += taken.new
        read += taken.read
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


def _below(stated: dict[str, Any]) -> int:
    return int(stated.get("records") or stated.get("lines") or 0)


class _Taken(NamedTuple):
    new: int
    read: int


def _take(journal: Journal, form: str, stated: dict[str, Any], lines: list[bytes]) -> _Taken | None:
    """Take in what a line stated, with the `lines` below it; None where they do not fit."""
    if len(lines) < _below(stated) or not all(line.endswith(b"\n") for line in lines):
        return None
    records = tuple(line[:-1] for line in lines)
    if _SEAL in stated and stated[_SEAL] != _seal(stated, records):
        return None
    if form == "hole":
        with journal.connections.writing() as connection:
            remains.keep_hole(connection, remains.from_form(stated))
        return _Taken(0, 0)
    if form == "aside":
        with journal.connections.writing() as connection:
            remains.keep_aside(connection, remains.from_lines(stated, records))
        return _Taken(0, 0)
    new = _take_records(journal, form, stated, records)
    return None if new is None else _Taken(new, len(records))


def _take_records(
    journal: Journal, form: str, stated: dict[str, Any], records: tuple[bytes, ...]
) -> int | None:
    """Take a batch in and return how many records were new; None where it does not fit."""
    writer = bytes.fromhex(stated["writer"])
    if form == "waiting":
        place = Place(writer, stated["first"], bytes.fromhex(stated["digest"]))
        return filling.adopt(journal, place, records)
    before, after = bytes.fromhex(stated["before"]), bytes.fromhex(stated["after"])
    batch = Batch(writer, stated["first"], before, after, records)
    (receipt,) = receive(journal, [batch])
    if receipt.refused and receipt.refused.why == "digest before":
        # A batch before it was damaged: this one is whole, and waits above the hole.
        first = Place(writer, batch.first, chain.link(before, records[0]))
        new = filling.adopt(journal, first, records)
        remains.note_gap(journal, first)
        return new
    return None if receipt.refused else receipt.new


_HEX_FIELDS = {"writer": 32, "before": 64, "after": 64, "digest": 64, "above": 64, _SEAL: 64}
#: What may follow the first line, by the name under which a line states it: the fields that
#: each has, and those that may be left out.
_FORMS = {
    "batch": (("writer", "first", "before", "after", "records"), ()),
    # The first exports said no SHA-256 of what waits.
    "waiting": (("writer", "first", "digest", "records"), (_SEAL,)),
    "hole": (("writer", "first", "last", "why", "lost", _SEAL), ("before", "digest", "above")),
    "aside": (("seq", "digest", "lines", _SEAL), ()),
}


def _header(line: bytes) -> tuple[str, dict[str, Any]] | None:
    """Return the form that a line states and its fields, None where `line` states none."""
    value = _object(line)
    for form, (names, others) in _FORMS.items():
        stated = value.get(form)
        if (
            type(stated) is dict
            and all(name in stated for name in names)
            and all(_states(stated, name) for name in (*names, *others) if name in stated)
        ):
            return form, stated
    return None


def _states(stated: dict[str, Any], name: str) -> bool:
    value = stated[name]
    if name == "why":
        return value in get_args(remains.Why)
    if name not in _HEX_FIELDS:
        least = 0 if name in ("lost", "lines") else 1
        return type(value) is int and least <= value <= _LARGEST
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
