"""The form of a QR code (ISO/IEC 18004:2015): what each module is for, and how it is masked."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

#: Modules in a code: by row and column, dark or light.
Modules = list[list[bool]]

#: The eight masks, by row and column (7.8.2).
MASKS: tuple[Callable[[int, int], bool], ...] = (
    lambda i, j: (i + j) % 2 == 0,
    lambda i, _: i % 2 == 0,
    lambda _, j: j % 3 == 0,
    lambda i, j: (i + j) % 3 == 0,
    lambda i, j: (i // 2 + j // 3) % 2 == 0,
    lambda i, j: i * j % 2 + i * j % 3 == 0,
    lambda i, j: (i * j % 2 + i * j % 3) % 2 == 0,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2 == 0,
)
#: Error correction levels by the two bits that name them (7.9.1).
LEVELS = ("M", "L", "H", "Q")
_FORMAT_MASK = 0b101010000010010
_FORMAT_POLYNOMIAL = 0b10100110111
#: Of the 15 bits of a format that may be wrong: the code between them tells 3.
_WRONG = 3


class Format(NamedTuple):
    """What a code says of itself: how much can be corrected, and which mask lies over it."""

    level: str
    mask: int


def version_of(size: int) -> int:
    """Return the version of a code of `size` modules a side."""
    return (size - 17) // 4


def alignment(version: int) -> list[int]:
    """Return the rows (and columns) of the middles of the alignment marks (Annex E)."""
    if version == 1:
        return []
    count = version // 7 + 2
    step = 26 if version == 32 else (version * 4 + count * 2 + 1) // (count * 2 - 2) * 2
    last = version * 4 + 10
    return [6, *(last - step * at for at in reversed(range(count - 1)))]


def format_of(modules: Modules) -> Format | None:
    """Return what a code says of itself, None where neither of its two copies can be read."""
    size = len(modules)
    one = [(8, j) for j in (0, 1, 2, 3, 4, 5, 7, 8)] + [(i, 8) for i in (7, 5, 4, 3, 2, 1, 0)]
    two = [(i, 8) for i in range(size - 1, size - 8, -1)]
    two += [(8, j) for j in range(size - 8, size)]
    known = {_format_bits(value): value for value in range(32)}
    best = (_WRONG + 1, 0)
    for places in (one, two):
        bits = 0
        for i, j in places:
            bits = bits << 1 | modules[i][j]
        best = min(best, *((bin(bits ^ code).count("1"), value) for code, value in known.items()))
    if best[0] > _WRONG:
        return None
    return Format(LEVELS[best[1] >> 3], best[1] & 7)


def _format_bits(value: int) -> int:
    rest = value << 10
    for at in range(14, 9, -1):
        if rest >> at & 1:
            rest ^= _FORMAT_POLYNOMIAL << (at - 10)
    return (value << 10 | rest) ^ _FORMAT_MASK


def timing_faults(modules: Modules) -> int:
    """Return how many modules of the two dotted lines are not as they should be."""
    between = range(8, len(modules) - 8)
    return sum(
        (modules[6][at] != (at % 2 == 0)) + (modules[at][6] != (at % 2 == 0)) for at in between
    )


def codewords(modules: Modules, mask: int) -> bytes:
    """Return the bytes of a code in the order of their places, the mask taken off."""
    size = len(modules)
    fixed = _fixed(size)
    masked = MASKS[mask]
    bits = [modules[i][j] != masked(i, j) for i, j in _path(size) if not fixed[i][j]]
    whole = range(0, len(bits) - 7, 8)
    return bytes(int("".join("01"[bit] for bit in bits[at : at + 8]), 2) for at in whole)


def _path(size: int) -> Iterator[tuple[int, int]]:
    """Yield the places of bits: two columns at a time from the right, up and down (7.7.3)."""
    upward = True
    for right in range(size - 1, 0, -2):
        column = right if right > 6 else right - 1
        rows = range(size - 1, -1, -1) if upward else range(size)
        for i in rows:
            yield i, column
            yield i, column - 1
        upward = not upward


def _fixed(size: int) -> Modules:
    """Return which modules hold no bits of the text: marks, dotted lines, format, version."""
    version = version_of(size)
    fixed = [[i == 6 or j == 6 for j in range(size)] for i in range(size)]

    def block(top: int, left: int, height: int, width: int) -> None:
        for i in range(top, top + height):
            for j in range(left, left + width):
                fixed[i][j] = True

    block(0, 0, 9, 9)
    block(0, size - 8, 9, 8)
    block(size - 8, 0, 8, 9)
    if version >= 7:
        block(0, size - 11, 6, 3)
        block(size - 11, 0, 3, 6)
    middles = alignment(version)
    for i in middles:
        for j in middles:
            if (i, j) not in ((6, 6), (6, size - 7), (size - 7, 6)):
                block(i - 2, j - 2, 5, 5)
    return fixed
