"""The devices of one machine, together."""

from __future__ import annotations

from dataclasses import dataclass

from fieldapp.device.notices import Notices, desktop_notices
from fieldapp.device.position import NoPosition, Position
from fieldapp.device.vibration import NoVibration, Vibration
from fieldapp.device.voice import Voice, desktop_voice


@dataclass(frozen=True, slots=True)
class Devices:
    """What this phone or computer has."""

    position: Position
    vibration: Vibration
    voice: Voice
    notices: Notices


def desktop_devices() -> Devices:
    """Return what a desktop has: notifications and a voice where they are installed."""
    return Devices(NoPosition(), NoVibration(), desktop_voice(), desktop_notices())
