"""The devices of one machine, together."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field

from fieldapp.device.alarms import Alarms, NoAlarms
from fieldapp.device.camera import Camera, NoCamera
from fieldapp.device.finding import Finding, NoFinding, ZeroconfFinding
from fieldapp.device.notices import Notices, desktop_notices
from fieldapp.device.picking import NoPicking, Picking
from fieldapp.device.position import NoPosition, Position
from fieldapp.device.sharing import NoSharing, Sharing
from fieldapp.device.vibration import NoVibration, PlyerVibration, Vibration
from fieldapp.device.voice import Voice, desktop_voice
from fieldapp.device.volume import KeysOfWindow, VolumeKeys


@dataclass(frozen=True, slots=True)
class Devices:
    """What this phone or computer has."""

    position: Position
    vibration: Vibration
    voice: Voice
    notices: Notices
    alarms: Alarms = field(default_factory=NoAlarms)
    sharing: Sharing = field(default_factory=NoSharing)
    finding: Finding = field(default_factory=NoFinding)
    camera: Camera = field(default_factory=NoCamera)
    picking: Picking = field(default_factory=NoPicking)
    volume: VolumeKeys = field(default_factory=KeysOfWindow)


def desktop_devices() -> Devices:
    """Return what a desktop has: notifications and a voice where they are installed."""
    return Devices(
        NoPosition(),
        NoVibration(),
        desktop_voice(),
        desktop_notices(),
        finding=ZeroconfFinding(),
    )


def phone_devices(monotonic: Callable[[], float]) -> Devices:
    """Return what an Android phone has; `monotonic` gives seconds."""
    from fieldapp.device.android.camera import AndroidCamera  # noqa: PLC0415
    from fieldapp.device.android.finding import AndroidFinding  # noqa: PLC0415
    from fieldapp.device.android.java import sdk  # noqa: PLC0415  (only where Java is)
    from fieldapp.device.android.permissions import Permissions  # noqa: PLC0415
    from fieldapp.device.android.picking import AndroidPicking  # noqa: PLC0415
    from fieldapp.device.android.position import AndroidPosition  # noqa: PLC0415
    from fieldapp.device.android.reminders import (  # noqa: PLC0415
        AndroidAlarms,
        AndroidNotices,
    )
    from fieldapp.device.android.results import Results  # noqa: PLC0415
    from fieldapp.device.android.sharing import AndroidSharing  # noqa: PLC0415
    from fieldapp.device.android.voice import AndroidVoice  # noqa: PLC0415
    from fieldapp.device.android.volume import AndroidVolumeKeys  # noqa: PLC0415

    results = Results()
    return Devices(
        AndroidPosition(monotonic, Permissions(sdk())),
        PlyerVibration(),
        AndroidVoice(),
        AndroidNotices(),
        AndroidAlarms(),
        AndroidSharing(),
        AndroidFinding(),
        AndroidCamera(results),
        AndroidPicking(results),
        AndroidVolumeKeys(),
    )


def devices_here(monotonic: Callable[[], float]) -> Devices:
    """Return the devices of the machine that this runs on; `monotonic` gives seconds."""
    return phone_devices(monotonic) if "ANDROID_ARGUMENT" in os.environ else desktop_devices()
