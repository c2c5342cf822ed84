"""Ids of records: UUIDs of version 7 (RFC 9562)."""

from __future__ import annotations

from collections.abc import Callable

#: Returns so many random bytes; ``os.urandom`` in the product, seeded in tests and demo.
Entropy = Callable[[int], bytes]


def uuid7(ms: int, entropy: bytes) -> str:
    """Return the id for `ms` (milliseconds since 1970) and ten bytes of chance."""
    return in_words(
        (ms & 0xFFFF_FFFF_FFFF).to_bytes(6, "big")
        + bytes((0x70 | entropy[0] & 0x0F, entropy[1], 0x80 | entropy[2] & 0x3F))
        + entropy[3:10]
    )


def in_words(raw: bytes) -> str:
    """Return 16 bytes as a UUID in lowercase."""
    text = raw.hex()
    return f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}"


def in_bytes(text: str) -> bytes:
    """Return the 16 bytes of a UUID."""
    return bytes.fromhex(text.replace("-", ""))
