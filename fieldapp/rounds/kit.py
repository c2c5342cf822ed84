"""All use cases of one phone, joined: what screens are given."""

from __future__ import annotations

from dataclasses import dataclass

from fieldapp.device.devices import Devices
from fieldapp.device.position import Fix
from fieldapp.rounds.alarms import Alarms
from fieldapp.rounds.faults import FaultLog
from fieldapp.rounds.home import Home, Main
from fieldapp.rounds.inspector import Inspector
from fieldapp.rounds.language import Language
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.papers_out import Papers
from fieldapp.rounds.photos import Photos
from fieldapp.rounds.positions import Positions
from fieldapp.rounds.reminders import Reminders
from fieldapp.rounds.satellite_time import SatelliteTime
from fieldapp.rounds.scanning import Scan
from fieldapp.rounds.timers import Timers
from fieldapp.words import Speech


@dataclass(slots=True)
class Kit:
    """The parts of the program that runs on this phone."""

    notebook: Notebook
    home: Home
    papers: Papers
    inspector: Inspector
    reminders: Reminders
    alarms: Alarms
    timers: Timers
    positions: Positions
    satellite_time: SatelliteTime
    photos: Photos
    scan: Scan
    devices: Devices
    speech: Speech
    language: Language
    main: Main
    faults: FaultLog

    def locate(self) -> None:
        """Ask for fixes, whatever thread the device calls on; nothing waits for one."""
        self.devices.position.start(lambda fix: self.main(lambda: self._located(fix)))

    def _located(self, fix: Fix) -> None:
        self.positions.fix(fix)
        self.satellite_time.fix(fix)
