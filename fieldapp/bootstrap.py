"""Joins the real parts into one program. Tests call it with clocks and devices of their own."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.assets import folder as assets
from fieldapp.book.closed import ClosedBook
from fieldapp.book.file import RULES
from fieldapp.device.devices import Devices, desktop_devices
from fieldapp.journal.files import FOLDER as ANNEXES
from fieldapp.journal.files import Files
from fieldapp.journal.ids import Entropy
from fieldapp.journal.store import Journal
from fieldapp.rounds.alarms import Alarms
from fieldapp.rounds.clock import Clock, system_clock
from fieldapp.rounds.faults import NAME as FAULTS
from fieldapp.rounds.faults import FaultLog
from fieldapp.rounds.home import Home, Main
from fieldapp.rounds.inspector import Inspector
from fieldapp.rounds.kit import Kit
from fieldapp.rounds.language import Language
from fieldapp.rounds.local import DEVICE, PHONE, Local
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.papers_out import Papers
from fieldapp.rounds.photos import Photos
from fieldapp.rounds.positions import Positions
from fieldapp.rounds.reminders import Reminders
from fieldapp.rounds.satellite_time import SatelliteTime
from fieldapp.rounds.scanning import Scan
from fieldapp.rounds.timers import Timers
from fieldapp.wire.versions import Versions
from fieldapp.words import Speech

if TYPE_CHECKING:
    from fieldapp.husbandry.library import Library
    from fieldapp.husbandry.published import Published
    from fieldapp.sync import Sync

JOURNAL = "journal.db"
BOOK = "book.db"
FILES = "files"
LOCAL = "phone.db"


def bootstrap(
    folder: Path,
    *,
    main: Main,
    zone: str,
    language: str = "en",
    clock: Clock | None = None,
    entropy: Entropy = os.urandom,
    devices: Devices | None = None,
) -> Kit:
    """Open what lies in `folder` and return the program's parts, joined.

    `main` runs a function on the screen's thread. `zone` and `language` (BCP 47) are those of
    the machine. Devices left out are those of a desktop.

    Raises the journal's own errors where the folder cannot be used.
    """
    folder.mkdir(parents=True, exist_ok=True)
    clock = clock or system_clock()
    devices = devices or desktop_devices()
    speech = Speech()
    journal = Journal.open(folder / JOURNAL, now_ms=lambda: clock.now_us() // 1000, entropy=entropy)
    notebook = Notebook(
        journal,
        ClosedBook(journal, folder / BOOK),
        Local.open(folder / LOCAL),
        clock=clock,
        load_library=_library,
        load_published=_published,
        entropy=entropy,
        zone=zone,
    )

    def load_sync() -> Sync:
        from fieldapp.journal.losses import Finder  # noqa: PLC0415
        from fieldapp.sync.sync import NO_KEEPER, Sync  # noqa: PLC0415  (loaded at first use)

        def finder() -> Finder:
            return Finder(sync.device_name, notebook.keeper or NO_KEEPER, notebook.moment())

        name = str(notebook.local.get(DEVICE, PHONE))
        sync = Sync(folder, journal, name, finder, finding=devices.finding, versions=_versions)
        return sync

    timers = Timers(notebook.local, clock)
    home = Home(notebook, load_sync, background=_in_background, main=main)
    files = Files(folder / ANNEXES)
    photos = Photos(
        notebook,
        files,
        folder / FILES,
        camera=devices.camera,
        picking=devices.picking,
        background=_in_background,
        main=main,
    )
    return Kit(
        notebook=notebook,
        home=home,
        papers=Papers(
            notebook,
            speech,
            folder / FILES,
            files,
            sharing=devices.sharing,
            picking=devices.picking,
            background=_in_background,
            main=main,
        ),
        inspector=Inspector(notebook, speech, background=_in_background, main=main),
        reminders=Reminders(notebook, devices.notices, speech),
        alarms=Alarms(notebook, devices.alarms, speech, timers),
        timers=timers,
        positions=Positions(notebook),
        satellite_time=SatelliteTime(notebook),
        photos=photos,
        scan=Scan(notebook, home, photos, background=_in_background),
        devices=devices,
        speech=speech,
        language=Language(notebook, speech, language),
        main=main,
        faults=FaultLog(folder / FAULTS, notebook.moment),
    )


def close(kit: Kit) -> None:
    """Close the files in order."""
    kit.home.close()
    kit.photos.close()
    kit.notebook.close()


def _library() -> Library:
    from fieldapp.husbandry.library import load  # noqa: PLC0415  (at the first need)

    return load(assets("treatments"))


@cache
def _versions() -> Versions:
    from fieldapp.husbandry.library import library_version  # noqa: PLC0415  (at the first need)

    return Versions(int(RULES), library_version(assets("treatments")))


def _published() -> Published:
    from fieldapp.husbandry import published  # noqa: PLC0415  (at the first need)

    return published.load(assets("tables"))


def _in_background(work: Callable[[], None]) -> None:
    threading.Thread(target=work, name="home", daemon=True).start()
