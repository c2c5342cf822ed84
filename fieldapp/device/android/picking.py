"""The system's own choice among files, with all that other programs offer there."""

from __future__ import annotations

import logging
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from fieldapp.device.android.camera import ASKING
from fieldapp.device.android.java import activity, java
from fieldapp.device.android.results import Results
from fieldapp.device.picking import OnPicked
from fieldapp.device.sharing import safe_name

log = logging.getLogger(__name__)


class AndroidPicking:
    """Opens the choice; what is picked is copied, for it may be on a server or a stick."""

    there = True

    def __init__(self, results: Results) -> None:
        self._results = results

    def pick(self, media: Sequence[str], folder: Path, picked: OnPicked) -> bool:
        """Open the choice; return whether the phone has one."""

        def answered(given: bool, intent: Any) -> None:
            uri = _address(intent) if given else None
            if uri is None:
                picked("nothing")
                return
            # A file may come over a network: the screen's thread waits for none.
            threading.Thread(
                target=_copy, args=(uri, folder, picked), name="picking", daemon=True
            ).start()

        try:
            self._results.ask(
                lambda request: java(ASKING).document(activity(), ",".join(media), request),
                answered,
            )
        except Exception as error:  # a phone without the system's choice of files
            log.info("no choice of files: %s", error)
            return False
        return True


def _address(intent: Any) -> Any:
    """Return where the file is that an intent carries, None where it carries none."""
    try:
        return intent.getData()
    except Exception as error:  # an intent that is null is an object here, and fails
        log.info("nothing picked: %s", error)
        return None


def _copy(uri: Any, folder: Path, picked: OnPicked) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        copy = folder / safe_name(str(java(ASKING).name(activity(), uri)))
        java(ASKING).copy(activity(), uri, str(copy))
    except Exception as error:  # whatever Java or the other program throws
        log.info("not copied: %s", error)
        picked("unread")
    else:
        picked(copy)
    finally:
        _detach()


def _detach() -> None:
    """Let Java's machine forget this thread, which ends."""
    from jnius import detach  # noqa: PLC0415  (only where Java is)

    detach()
