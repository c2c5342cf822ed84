"""Compression of bodies, with a bound on what a small body may unpack to."""

from __future__ import annotations

import zlib

_GZIP = 31  # wbits of zlib for the gzip form, which carries length and CRC-32


class BadPacking(ValueError):
    """A body that is not whole gzip, or that unpacks to more than is allowed."""


def pack(data: bytes) -> bytes:
    """Return data as gzip, level 1: three times smaller for a few microseconds a record."""
    packer = zlib.compressobj(1, zlib.DEFLATED, _GZIP)
    return packer.compress(data) + packer.flush()


def unpack(packed: bytes, most: int) -> bytes:
    """Return what was packed; raise `BadPacking` before more than `most` bytes are made."""
    unpacker = zlib.decompressobj(_GZIP)
    try:
        data = unpacker.decompress(packed, most + 1)
    except zlib.error as wrong:
        raise BadPacking("the compressed body is damaged") from wrong
    if len(data) > most:
        raise BadPacking(f"the body unpacks to more than {most} bytes")
    if not unpacker.eof:
        raise BadPacking("the compressed body is cut off")
    if unpacker.unused_data:
        raise BadPacking("something stands behind the compressed body")
    return data
