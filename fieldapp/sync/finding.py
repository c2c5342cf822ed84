"""Looks for the server at another address than the one that is known.

Whoever is in the network can announce anything, so what is heard is a hint where to knock. A
server is believed when it shows the certificate that was pinned, or that the pairing code names;
before that nothing is told to it, not even which server is looked for.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator
from contextlib import closing
from typing import Final, NamedTuple, Protocol

from fieldapp.sync.errors import SyncError
from fieldapp.wire.announcement import Announced

#: Seconds that a phone listens: a server that is there is heard in the first or second one.
LOOK_SECONDS: Final = 4.0
#: Seconds that a found address is given to show its certificate; at home it takes hundredths.
KNOCK_SECONDS: Final = 2.0


class Finding(Protocol):
    """A way to hear announcements; `fieldapp.device.finding` has those of phone and desktop."""

    def look(self, seconds: float) -> Iterator[Announced]:
        """Yield servers as they are heard, for so long."""


class Sought(NamedTuple):
    """Where the server is, empty where it was not found, and who only said to be it."""

    address: str
    claimed: tuple[str, ...]


def seek(finding: Finding, pin: str, fits: Callable[[bytes], bool]) -> Sought:
    """Return the address at which a certificate `fits`, of those that announce `pin` or none."""
    from fieldapp.sync.pinned import certificate_at  # noqa: PLC0415 - off the start path

    claimed: list[str] = []
    with closing(_listening(finding)) as heard:
        for one in heard:
            if one.pin not in ("", pin):
                continue
            for address in one.addresses:
                try:
                    certificate = certificate_at(address, KNOCK_SECONDS)
                except SyncError:
                    continue
                if fits(certificate):
                    return Sought(address, tuple(claimed))
                if one.pin and address not in claimed:
                    claimed.append(address)
    return Sought("", tuple(claimed))


def _listening(finding: Finding) -> Generator[Announced]:
    # A generator of our own, so that leaving it early always ends the listening.
    yield from finding.look(LOOK_SECONDS)
