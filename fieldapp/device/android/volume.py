"""The phone's volume keys, which SDL leaves to the system: the activity hands them on."""

from __future__ import annotations

from functools import cache
from typing import Any

from fieldapp.device.android.java import java
from fieldapp.device.volume import Moved

ACTIVITY = "org.apiaryrounds.rounds.RoundsActivity"


class AndroidVolumeKeys:
    """Asks the activity for the keys. Java holds the listener; so does this, or it would go."""

    def __init__(self) -> None:
        self._keys: Any = None

    def give_to(self, moved: Moved | None) -> None:
        """Tell `moved` of the keys, and leave the volume as it is; None: the system has them."""
        if moved is None and self._keys is None:
            return
        self._keys = None if moved is None else _keys_class()(moved)
        java(ACTIVITY).give(self._keys)


@cache
def _keys_class() -> Any:
    from jnius import PythonJavaClass, java_method  # noqa: PLC0415  (only where Java is)

    class Keys(PythonJavaClass):
        """Java's listener."""

        __javainterfaces__ = (ACTIVITY.replace(".", "/") + "$VolumeKeys",)

        def __init__(self, moved: Moved) -> None:
            super().__init__()
            self._moved = moved

        @java_method("(IZ)V")
        def moved(self, key: int, down: bool) -> None:
            self._moved(key, down)

    return Keys
