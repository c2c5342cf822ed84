"""The time zone that this machine is set to."""

from __future__ import annotations

import os
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

_LINK = Path("/etc/localtime")
_NAME = Path("/etc/timezone")
FALLBACK = "UTC"


def system_zone() -> str:
    """Return the IANA name of this machine's zone; ``UTC`` where it says none.

    On Android the system's own setting is asked, elsewhere TZ, /etc/timezone, /etc/localtime.
    """
    for name in (_android(), os.environ.get("TZ", "").lstrip(":"), _file(), _linked()):
        if name and _known(name):
            return name
    return FALLBACK


def _known(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def _android() -> str:
    if "ANDROID_ARGUMENT" not in os.environ:
        return ""
    from fieldapp.device.android.java import java  # noqa: PLC0415  (only where Java is)

    return str(java("java.util.TimeZone").getDefault().getID())


def _file() -> str:
    try:
        return _NAME.read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        return ""


def _linked() -> str:
    try:
        target = str(_LINK.resolve(strict=True))
    except OSError:
        return ""
    return target.partition("/zoneinfo/")[2]
