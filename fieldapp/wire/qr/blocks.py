"""The blocks that a code's bytes are parted into, and how what was misread is put right."""

from __future__ import annotations

from typing import Final

#: Bytes of error correction in each block, versions 1 to 40 (ISO/IEC 18004:2015, table 9).
CORRECTING: Final = {
    "L": (
        *(7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28),
        *(28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30),
    ),
    "M": (
        *(10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26),
        *(26, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28),
    ),
    "Q": (
        *(13, 22, 18, 26, 18, 24, 18, 22, 20, 24, 28, 26, 24, 20, 30, 24, 28, 28, 26, 30),
        *(28, 30, 30, 30, 30, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30),
    ),
    "H": (
        *(17, 28, 22, 16, 22, 28, 26, 26, 24, 28, 24, 28, 22, 24, 24, 30, 28, 28, 26, 28),
        *(30, 24, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30),
    ),
}
#: Blocks, versions 1 to 40 (the same table).
BLOCKS: Final = {
    "L": (
        *(1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8),
        *(8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25),
    ),
    "M": (
        *(1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16),
        *(17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49),
    ),
    "Q": (
        *(1, 1, 2, 2, 4, 4, 6, 6, 8, 8, 8, 10, 12, 16, 12, 17, 16, 18, 21, 20),
        *(23, 23, 25, 27, 29, 34, 34, 35, 38, 40, 43, 45, 48, 51, 53, 56, 59, 62, 65, 68),
    ),
    "H": (
        *(1, 1, 2, 4, 4, 4, 5, 6, 8, 8, 11, 11, 16, 16, 18, 16, 19, 21, 25, 25),
        *(25, 34, 30, 32, 35, 37, 40, 42, 45, 48, 51, 54, 57, 60, 63, 66, 70, 74, 77, 81),
    ),
}


class Unreadable(Exception):
    """More was misread than can be put right."""


def data(words: bytes, version: int, level: str) -> bytes:
    """Return the text's bytes of a code's `words`, put right block by block.

    Raises `Unreadable` where a block has more faults than its error correction tells.
    """
    from reedsolo import ReedSolomonError, RSCodec  # noqa: PLC0415  (loaded when a code was seen)

    correcting = CORRECTING[level][version - 1]
    codec = RSCodec(correcting, fcr=0, prim=0x11D)
    found = b""
    for block in _parted(words, correcting, BLOCKS[level][version - 1]):
        try:
            found += bytes(codec.decode(block)[0])
        except ReedSolomonError as error:
            raise Unreadable from error
    return found


def _parted(words: bytes, correcting: int, count: int) -> list[bytes]:
    """Return the blocks, which stand byte by byte beside each other; the last may be longer."""
    short = len(words) // count - correcting
    longer = len(words) % count
    ends = (short * count + longer, len(words))
    blocks = []
    for at in range(count):
        block = words[at : short * count : count]
        if at >= count - longer:
            block += words[short * count + at - (count - longer) :][:1]
        blocks.append(block + words[ends[0] + at : ends[1] : count])
    return blocks
