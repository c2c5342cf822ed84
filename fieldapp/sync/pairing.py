"""Pairing: a code from the server's screen is taken to the one server that it was made for."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.sync.errors import (
    BadCode,
    Claimed,
    Garbled,
    NoAddress,
    NotFound,
    NotThere,
    SyncError,
    WrongServer,
)
from fieldapp.sync.finding import KNOCK_SECONDS, Finding, seek
from fieldapp.sync.outcome import Pairing
from fieldapp.wire import invitation
from fieldapp.wire.invitation import BadInvitation, Invitation


def invited(text: str) -> Invitation:
    """Take apart what was typed or scanned; raise `BadCode`."""
    try:
        return invitation.read(text)
    except BadInvitation as wrong:
        raise BadCode from wrong


def where(invited: Invitation, typed: Sequence[str], finding: Finding | None) -> str:
    """Return the address of the server that the code was made for.

    It is looked for at `typed` addresses, else where the code says, else by what is announced.

    :raises SyncError: saying why it was not reached.
    """
    tidy = (one.strip().removeprefix("https://").rstrip("/") for one in (*typed, invited.address))
    known = [one for one in tidy if one]
    if known:
        return _first_fitting(known, invited)
    if finding is None:
        raise NoAddress
    sought = seek(finding, invited.pin, invited.fits)
    if sought.address:
        return sought.address
    raise Claimed(sought.claimed[0]) if sought.claimed else NotFound()


def _first_fitting(addresses: Sequence[str], invited: Invitation) -> str:
    # Off the start path: requests alone takes several times 80 ms on a phone.
    from fieldapp.sync.pinned import CONNECT_SECONDS, certificate_at  # noqa: PLC0415

    seconds = CONNECT_SECONDS if len(addresses) == 1 else KNOCK_SECONDS
    why: SyncError | None = None
    for address in addresses:
        try:
            if invited.fits(certificate_at(address, seconds)):
                return address
            why = WrongServer(address)
        except NotThere as wrong:
            why = why or wrong
    raise why or NoAddress()


def pair_at(address: str, invited: Invitation, device: str) -> Pairing:
    """Use the code up at this address and return the pairing; the certificate is looked at anew."""
    from fieldapp.sync.client import Client  # noqa: PLC0415 - off the start path
    from fieldapp.sync.pinned import certificate_at, fingerprint_of  # noqa: PLC0415

    certificate = certificate_at(address)
    if not invited.fits(certificate):
        raise WrongServer(address)
    fingerprint = fingerprint_of(certificate)
    client = Client(address, fingerprint)
    try:
        told = client.ask("/pair", {"code": invited.secret, "device": device})
        return Pairing(
            address,
            fingerprint,
            str(told["token"]),
            str(told["device"]),
            str(told["operation"]),
            str(told["operation_name"]),
        )
    except (KeyError, TypeError) as wrong:
        raise Garbled(address) from wrong
    finally:
        client.close()
