"""The chain of digests that names a writer's history, and the vector that names a replica's.

The digest of record n of a writer is SHA-256(digest of n-1 followed by the bytes of n),
starting from SHA-256 of the writer's 16 bytes. A head (count, digest) so stands for every
byte below it; equal vectors prove that two replicas hold the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import NamedTuple

WRITER_BYTES = 16
DIGEST_BYTES = 32
_HEAD_BYTES = WRITER_BYTES + 8 + DIGEST_BYTES


def start(writer: bytes) -> bytes:
    """Return the digest before the first record of `writer`."""
    return sha256(writer).digest()


def link(before: bytes, raw: bytes) -> bytes:
    """Return the digest of the record `raw` that follows `before`."""
    return sha256(before + raw).digest()


def digests(before: bytes, raws: Iterable[bytes]) -> Iterator[bytes]:
    """Yield the digest of each record in a row that follows `before`."""
    for raw in raws:
        before = sha256(before + raw).digest()
        yield before


class Place(NamedTuple):
    """A record's place: the writer, the how-manieth of it, and the digest up to it.

    Where the writer forked, the digest tells which record is meant. The place of a branch's
    last record is its head.
    """

    writer: bytes
    seq: int
    digest: bytes


class Vector(frozenset[Place]):
    """Every head that a replica holds. Equal vectors: the same records."""

    def of(self, writer: bytes) -> list[Place]:
        """Return the heads of one writer, the longest first."""
        return sorted((head for head in self if head.writer == writer), reverse=True)

    def encode(self) -> bytes:
        """Return the sorted vector: 16 bytes writer, 8 seq (big-endian), 32 digest a head."""
        return b"".join(
            head.writer + head.seq.to_bytes(8, "big") + head.digest for head in sorted(self)
        )

    @classmethod
    def decode(cls, data: bytes) -> Vector:
        """Return the vector in `data`.

        :raises ValueError: where `data` is not a whole number of heads.
        """
        if len(data) % _HEAD_BYTES:
            raise ValueError(f"a vector has {_HEAD_BYTES} bytes a head, this has {len(data)}")
        return cls(
            Place(
                data[at : at + WRITER_BYTES],
                int.from_bytes(data[at + WRITER_BYTES : at + WRITER_BYTES + 8], "big"),
                data[at + WRITER_BYTES + 8 : at + _HEAD_BYTES],
            )
            for at in range(0, len(data), _HEAD_BYTES)
        )

    def hash(self) -> bytes:
        """Return the SHA-256 of the sorted vector, with which a sync begins."""
        return sha256(self.encode()).digest()
