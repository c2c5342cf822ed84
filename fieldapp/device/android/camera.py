"""The phone's own camera program, asked for a photo: no permission, no view of our own."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Any

from fieldapp.device.android.java import activity, java
from fieldapp.device.android.results import Results
from fieldapp.device.camera import MOST, OnLeft

log = logging.getLogger(__name__)

ASKING = "org.apiaryrounds.rounds.Asking"
ANY_CAMERA = "android.hardware.camera.any"


class AndroidCamera:
    """Opens the camera program; the photo is written into a file that only this program has."""

    def __init__(self, results: Results) -> None:
        self._results = results

    @property
    def there(self) -> bool:
        """Whether the phone has a camera."""
        return bool(activity().getPackageManager().hasSystemFeature(ANY_CAMERA))

    def take(self, name: str, left: OnLeft) -> None:
        """Open the camera program and return at once."""

        def answered(given: bool, _intent: Any) -> None:
            left("taken" if given else "cancelled")

        try:
            self._results.ask(
                lambda request: java(ASKING).photo(activity(), name, request), answered
            )
        except Exception as error:  # no camera program, or one that a profile keeps from us
            log.info("no camera: %s", error)
            left("none")

    def taken(self, name: str) -> bytes | None:
        """Return what the camera program wrote, None where it wrote nothing."""
        try:
            with self._place(name).open("rb") as file:
                return file.read(MOST) or None
        except FileNotFoundError:
            return None

    def drop(self, name: str) -> None:
        """Delete what the camera program wrote."""
        self._place(name).unlink(missing_ok=True)

    def _place(self, name: str) -> Path:
        return Path(str(java(ASKING).place(activity(), name)))
