"""Batches as bytes: a fixed head, the lengths of the records, then their exact bytes.

All numbers are big-endian. One batch is::

    writer 16 | first 8 | digest before 32 | digest after 32 | count 4 | lengths count x 4 | records

Batches follow each other to the end of the body. Lengths rather than line feeds keep every
record what it was, whatever its bytes are.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable
from itertools import pairwise

from fieldapp.journal.batches import Batch

_HEAD = struct.Struct(">16sQ32s32sI")


class BadBatches(ValueError):
    """Bytes that are no row of batches."""


def encode(batches: Iterable[Batch]) -> bytes:
    """Return batches as bytes, not yet compressed."""
    parts: list[bytes] = []
    for batch in batches:
        count = len(batch.records)
        parts.append(_HEAD.pack(batch.writer, batch.first, batch.before, batch.after, count))
        parts.append(struct.pack(f">{count}I", *map(len, batch.records)))
        parts.extend(batch.records)
    return b"".join(parts)


def decode(data: bytes) -> list[Batch]:
    """Return the batches in `data`; raise `BadBatches` where it is not whole."""
    batches: list[Batch] = []
    at = 0
    while at < len(data):
        if len(data) - at < _HEAD.size:
            raise BadBatches("a batch is cut off")
        writer, first, before, after, count = _HEAD.unpack_from(data, at)
        at += _HEAD.size
        if not first or not count or count > (len(data) - at) // 4:
            raise BadBatches("a batch cannot begin or be counted so")
        lengths = struct.unpack_from(f">{count}I", data, at)
        at += 4 * count
        ends = [at]
        for length in lengths:
            ends.append(ends[-1] + length)
        if ends[-1] > len(data):
            raise BadBatches("a record is cut off")
        records = tuple(data[begin:end] for begin, end in pairwise(ends))
        batches.append(Batch(writer, first, before, after, records))
        at = ends[-1]
    return batches
