"""Who asks: the device of a token, and through it the operation. No route names an operation."""

from __future__ import annotations

from http import HTTPStatus
from typing import Annotated

from fastapi import Depends, Request

from syncserver.api.errors import ApiError
from syncserver.bootstrap import Parts, clock
from syncserver.journals import Ledger
from syncserver.store import Device

_SEEN_EVERY = 60


def parts_of(request: Request) -> Parts:
    """Return the server's joined parts."""
    parts: Parts = request.app.state.parts
    return parts


PartsHere = Annotated[Parts, Depends(parts_of)]


def asking_device(request: Request, parts: PartsHere) -> Device:
    """Return the paired device that asks; refuse any other."""
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
    now = clock()
    if device.seen is None or now - device.seen >= _SEEN_EVERY:
        parts.store.seen(device.id, now)
    return device


DeviceHere = Annotated[Device, Depends(asking_device)]


def asked_ledger(parts: PartsHere, device: DeviceHere) -> Ledger:
    """Return the ledger of the device's operation."""
    return parts.journals.of(device.operation)


LedgerHere = Annotated[Ledger, Depends(asked_ledger)]
