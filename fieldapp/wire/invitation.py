"""The pairing code: a one-time secret and the server's certificate in 24 symbols.

The keeper reads it off the server's terminal or scans it. It carries

- 7 symbols of secret (35 bits; the server allows a handful of guesses and some minutes),
- 16 symbols of the SHA-256 of the server's certificate (its first 80 bits), so that the phone
  hands the secret to no other server,
- 1 check symbol, so that a slip of the finger is told from a wrong server.

The QR adds the address and the whole SHA-256. Once paired, the phone pins the whole of it.
"""

from __future__ import annotations

import hashlib
import re
from typing import NamedTuple
from urllib.parse import parse_qs, urlsplit

SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Crockford's base 32: no I, L, O, U, which are taken for other symbols when read aloud."""

SECRET_SYMBOLS = 7
PIN_SYMBOLS = 16
CODE_SYMBOLS = SECRET_SYMBOLS + PIN_SYMBOLS + 1
SCHEME = "apiary-rounds"

_ALIKE = str.maketrans("ILO", "110")


class BadInvitation(ValueError):
    """A text that is no pairing code."""


class Invitation(NamedTuple):
    """A pairing code taken apart.

    `address` is ``host:port``, empty where only the code was typed; `fingerprint` the whole
    SHA-256 of the certificate as 64 hex digits, empty where only its beginning is known.
    """

    secret: str
    pin: str
    address: str = ""
    fingerprint: str = ""

    def fits(self, certificate: bytes) -> bool:
        """Tell whether a server's certificate (DER) is the one that this code was made for."""
        found = hashlib.sha256(certificate).hexdigest()
        return self.pin == pin_of(found) and self.fingerprint in ("", found)


def pin_of(fingerprint: str) -> str:
    """Return the first 80 bits of a SHA-256 (64 hex digits) as 16 symbols."""
    return _symbols(int(fingerprint[:20], 16), PIN_SYMBOLS)


def secret_from(entropy: bytes) -> str:
    """Return the 7 symbols of secret made from at least 5 random bytes."""
    return _symbols(int.from_bytes(entropy[:5], "big"), SECRET_SYMBOLS)


def code(secret: str, fingerprint: str) -> str:
    """Return the code to be typed: six groups of four symbols."""
    return grouped(with_check(secret + pin_of(fingerprint)))


def link(address: str, typed: str, fingerprint: str) -> str:
    """Return the text of the QR: address, code and the whole fingerprint."""
    return f"{SCHEME}://{address}/{typed}?sha256={fingerprint}"


def read(text: str) -> Invitation:
    """Take apart a typed code or the text of a QR; raise `BadInvitation` where it is neither."""
    address = fingerprint = ""
    stripped = text.strip()
    if stripped.lower().startswith(SCHEME + ":"):
        try:
            parts = urlsplit(stripped)
        except ValueError as wrong:
            raise BadInvitation("not a pairing code") from wrong
        address, stripped = parts.netloc, parts.path
        fingerprint = parse_qs(parts.query).get("sha256", [""])[0].lower()
        if fingerprint and not re.fullmatch("[0-9a-f]{64}", fingerprint):
            raise BadInvitation("the certificate's fingerprint is damaged")
    symbols = plain(stripped)
    if len(symbols) != CODE_SYMBOLS or with_check(symbols[:-1]) != symbols:
        raise BadInvitation("mistyped")
    return Invitation(symbols[:SECRET_SYMBOLS], symbols[SECRET_SYMBOLS:-1], address, fingerprint)


def plain(typed: str) -> str:
    """Return what was typed as symbols: upper case, look-alikes set right, the rest left out."""
    return re.sub(f"[^{SYMBOLS}]", "", typed.upper().translate(_ALIKE))


def grouped(symbols: str) -> str:
    """Return symbols in groups of four."""
    return "-".join(symbols[at : at + 4] for at in range(0, len(symbols), 4))


def with_check(symbols: str) -> str:
    """Return symbols with their check symbol behind them."""
    return symbols + SYMBOLS[hashlib.sha256(symbols.encode()).digest()[0] % 32]


def _symbols(value: int, width: int) -> str:
    return "".join(SYMBOLS[value >> 5 * at & 31] for at in reversed(range(width)))
