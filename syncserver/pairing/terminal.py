"""What the terminal shows: where the server listens, the pairing code as text and as QR."""

from __future__ import annotations

import io
import socket

import segno

from fieldapp.wire import invitation
from syncserver.pairing.desk import page_code


def home_address() -> str:
    """Return this machine's address in the home network.

    Nothing is sent: a UDP socket that is only connected asks the system which of its addresses
    it would use. 192.0.2.1 is reserved for documentation (RFC 5737).
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def reachable(host: str) -> str:
    """Return the address under which a phone finds a server that listens on `host`."""
    return home_address() if host in ("0.0.0.0", "::", "") else host  # noqa: S104 - compared only


def show_pairing(secret: str, fingerprint: str, address: str) -> str:
    """Return the pairing code as text and as a QR of block characters."""
    typed = invitation.code(secret, fingerprint)
    picture = io.StringIO()
    segno.make(invitation.link(address, typed, fingerprint), error="l").terminal(
        picture, compact=True, border=2
    )
    return (
        f"{picture.getvalue()}\n"
        "Pair a phone: open Home, then Pair with a server, and scan the code; or choose this one "
        "and type it.\n"
        f"Address: {address}\n"
        f"Pairing code: {typed}\n"
        "It opens once, within 15 minutes. Another one: apiary-rounds-server code\n"
    )


def show_page(secret: str, address: str) -> str:
    """Return how the pages are opened for the first time."""
    return (
        f"Set the password of the pages: open https://{address}/first in a browser at home.\n"
        f"Page code: {page_code(secret)}\n"
        "The browser warns once, because no authority has signed this server's certificate.\n"
    )
