"""The text that the bytes of a QR code say: segments of digits, of capitals, of bytes."""

from __future__ import annotations

from fieldapp.wire.qr.blocks import Unreadable

_CAPITALS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_DIGITS_AT, _CAPITALS_AT, _BYTES_AT, _CHARSET_AT, _END = 1, 2, 4, 7, 0
#: Bits in which a segment's length is said: up to version 9, up to 26, above (table 3).
_LENGTHS = {_DIGITS_AT: (10, 12, 14), _CAPITALS_AT: (9, 11, 13), _BYTES_AT: (8, 16, 16)}


class _Bits:
    def __init__(self, data: bytes) -> None:
        self._value = int.from_bytes(data, "big")
        self.left = 8 * len(data)

    def take(self, count: int) -> int:
        if count > self.left:
            raise Unreadable
        self.left -= count
        return self._value >> self.left & ((1 << count) - 1)


def text(data: bytes, version: int) -> str:
    """Return the text. Raises `Unreadable` for what is no text in these forms."""
    bits, found = _Bits(data), b""
    size = 0 if version <= 9 else 1 if version <= 26 else 2
    while bits.left >= 4:
        mode = bits.take(4)
        if mode == _END:
            break
        if mode == _CHARSET_AT:
            _skip_charset(bits)
            continue
        if mode not in _LENGTHS:
            raise Unreadable
        length = bits.take(_LENGTHS[mode][size])
        if mode == _BYTES_AT:
            found += bytes(bits.take(8) for _ in range(length))
        elif mode == _DIGITS_AT:
            found += _digits(bits, length)
        else:
            found += _capitals(bits, length)
    try:
        return found.decode("utf-8")
    except UnicodeDecodeError:
        return found.decode("latin-1")


def _skip_charset(bits: _Bits) -> None:
    first = bits.take(8)
    if first & 0b1000_0000:
        bits.take(8 if not first & 0b0100_0000 else 16)


def _digits(bits: _Bits, length: int) -> bytes:
    found = ""
    while length:
        count = min(3, length)
        found += f"{bits.take((0, 4, 7, 10)[count]):0{count}d}"
        length -= count
    return found.encode()


def _capitals(bits: _Bits, length: int) -> bytes:
    found = ""
    while length:
        count = min(2, length)
        value = bits.take(11 if count > 1 else 6)
        if value >= len(_CAPITALS) ** count:
            raise Unreadable
        if count > 1:
            found += _CAPITALS[value // len(_CAPITALS)]
        found += _CAPITALS[value % len(_CAPITALS)]
        length -= count
    return found.encode()
