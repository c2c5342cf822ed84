"""The devices of one machine, together."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass

from fieldapp.device.notices import Notices, PlyerNotices, desktop_notices
from fieldapp.device.position import NoPosition, PlyerPosition, Position
from fieldapp.device.vibration import NoVibration, PlyerVibration, Vibration
from fieldapp.device.voice import PlyerVoice, Voice, desktop_voice


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


def phone_devices(monotonic: Callable[[], float]) -> Devices:
    """Return what a phone has; each finds out at its first use whether it is really there."""
    return Devices(PlyerPosition(monotonic), PlyerVibration(), PlyerVoice(), PlyerNotices())


def devices_here(monotonic: Callable[[], float]) -> Devices:
    """Return the devices of the machine that this runs on; `monotonic` gives seconds."""
    return phone_devices(monotonic) if "ANDROID_ARGUMENT" in os.environ else desktop_devices()
