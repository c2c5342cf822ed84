"""The language that this machine is set to."""

from __future__ import annotations

import os
import re

FALLBACK = "en"
_POSIX = re.compile(r"([a-z]{2,3})(?:_([A-Z]{2}))?(?:[.@].*)?")


def system_language() -> str:
    """Return the language tag of this machine (BCP 47), as ``de-AT``; ``en`` where it says none.

    On Android the system's own setting is asked; setlocale does not work there.
    """
    if "ANDROID_ARGUMENT" in os.environ:
        from fieldapp.device.android.java import java  # noqa: PLC0415  (only on a phone)

        return str(java("java.util.Locale").getDefault().toLanguageTag()) or FALLBACK
    for name in ("LC_ALL", "LC_MESSAGES", "LANG"):
        if found := _POSIX.fullmatch(os.environ.get(name, "")):
            language, country = found.groups()
            return f"{language}-{country}" if country else str(language)
    return FALLBACK
