"""Who asks: the device of a token, and through it the operation. No route names an operation.

Whatever may wait for a disk is done in one go on a thread; what only passes it on is a
coroutine, because each change of thread costs more than most questions do.
"""

from __future__ import annotations

from http import HTTPStatus
from typing import Annotated, NamedTuple

from fastapi import Depends, Request

from syncserver.api.errors import ApiError
from syncserver.bootstrap import Parts
from syncserver.journals import Ledger
from syncserver.store import Device

_SEEN_EVERY = 60


async def parts_of(request: Request) -> Parts:
    """Return the server's joined parts."""
    parts: Parts = request.app.state.parts
    return parts


PartsHere = Annotated[Parts, Depends(parts_of)]


class Asked(NamedTuple):
    """The device that asks, and the ledger of its operation."""

    device: Device
    ledger: Ledger


def asked(request: Request, parts: PartsHere) -> Asked:
    """Return the paired device that asks, with its ledger; refuse any other."""
    device = _known(request, parts)
    now = parts.clock.seconds()
    if device.seen is None or now - device.seen >= _SEEN_EVERY:
        parts.store.seen(device.id, now)
    return Asked(device, parts.journals.of(device.operation))


AskedHere = Annotated[Asked, Depends(asked)]


async def asking_device(asked: AskedHere) -> Device:
    """Return the paired device that asks."""
    return asked.device


async def asked_ledger(asked: AskedHere) -> Ledger:
    """Return the ledger of the device's operation."""
    return asked.ledger


DeviceHere = Annotated[Device, Depends(asking_device)]
LedgerHere = Annotated[Ledger, Depends(asked_ledger)]


def _known(request: Request, parts: Parts) -> Device:
    scheme, _, token = request.headers.get("authorization", "").partition(" ")
    device = parts.desk.device(token.strip()) if scheme.lower() == "bearer" else None
    if device is None:
        raise ApiError(
            HTTPStatus.UNAUTHORIZED,
            "not_paired",
            "This phone is not paired with this server.",
            "Pair it with a new code. Its records stay on it.",
        )
    if device.revoked is not None:
        raise ApiError(
            HTTPStatus.UNAUTHORIZED,
            "revoked",
            "This phone's right to sync was taken away on the server.",
            "Its records stay on it. If that was a mistake, pair it with a new code.",
        )
    return device
