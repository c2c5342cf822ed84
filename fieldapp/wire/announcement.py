"""What a home server announces in its network (DNS-SD, RFC 6763), and how that is read.

Anybody in a network can announce anything. What is read here is a hint where to look; whether a
server is the one that is meant, its certificate decides.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Iterable, Mapping
from typing import Final, NamedTuple

from fieldapp.wire import limits
from fieldapp.wire.invitation import PIN_SYMBOLS, SYMBOLS, pin_of

SERVICE: Final = "_apiary-rounds._tcp"
"""The service's type; RFC 6335 allows a name 15 characters."""

MOST_ADDRESSES: Final = 4
"""So many addresses of one server are tried."""
_NAME_BYTES: Final = 63  # of an instance's name, RFC 6763, 4.1.1
_MOST_SHOWN: Final = 40


class Announced(NamedTuple):
    """One server as it is announced.

    `addresses` are ``host:port``, IPv4 first. `pin` is the beginning of its certificate's
    SHA-256 as pairing codes carry it, empty where none is told; `protocols` the versions that
    it says it speaks.
    """

    name: str
    addresses: tuple[str, ...]
    pin: str = ""
    protocols: tuple[int, ...] = ()

    @property
    def speaks(self) -> bool:
        """Whether it says that it speaks this program's protocol; one that says nothing may."""
        return not self.protocols or limits.PROTOCOL in self.protocols


def instance_name(machine: str) -> str:
    """Return what the server on a machine of this name is called in the network."""
    return _cut(f"Apiary Rounds on {machine or 'this network'}", _NAME_BYTES)


def properties(fingerprint: str) -> dict[str, str]:
    """Return the TXT record of the server whose certificate has this SHA-256 (64 hex digits)."""
    return {"txtvers": "1", "pin": pin_of(fingerprint), "protocols": str(limits.PROTOCOL)}


def read(
    name: str, hosts: Iterable[str], port: int, txt: Mapping[bytes, bytes | None]
) -> Announced:
    """Return what was announced, without what cannot be used or shown of it."""
    told = {key.lower(): (value or b"").decode("utf-8", "replace") for key, value in txt.items()}
    pin = told.get(b"pin", "").upper()
    numbers = told.get(b"protocols", "").split(",")
    usable = sorted(filter(_usable, dict.fromkeys(hosts)), key=lambda host: ":" in host)
    return Announced(
        "".join(sign if sign.isprintable() else " " for sign in name).strip()[:_MOST_SHOWN],
        tuple(address(host, port) for host in usable[:MOST_ADDRESSES] if 0 < port < 65536),
        pin if len(pin) == PIN_SYMBOLS and not set(pin) - set(SYMBOLS) else "",
        tuple(int(one) for one in numbers if one.isascii() and one.isdecimal() and len(one) < 5),
    )


def address(host: str, port: int) -> str:
    """Return ``host:port``, an IPv6 host in brackets."""
    return f"[{host}]:{port}" if ":" in host else f"{host}:{port}"


def _usable(host: str) -> bool:
    try:
        at = ipaddress.ip_address(host)
    except ValueError:
        return False
    # A link-local IPv6 address says nothing without the phone's own name for the link.
    alone = at.version == 6 and at.is_link_local
    return not (alone or at.is_unspecified or at.is_multicast)


def _cut(text: str, most: int) -> str:
    return text.encode()[:most].decode("utf-8", "ignore")
