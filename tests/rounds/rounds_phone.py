"""The phone's use cases on real files, with the test's clock and no face."""

from __future__ import annotations

import random
from dataclasses import replace

from fieldapp.bootstrap import bootstrap
from fieldapp.device.devices import desktop_devices
from fieldapp.device.finding import NoFinding
from fieldapp.journal.record import Draft
from fieldapp.rounds.clock import Clock
from fieldapp.rounds.setup import COUNTRIES, Setup
from fieldapp.rounds.starting import Start

#: 1 July 2026, 09:00 in London.
MORNING_US = 1_782_892_800_000_000
DAY = 86_400


class Time:
    """A clock that the tests move."""

    def __init__(self) -> None:
        self.us = MORNING_US
        self.seconds = 500.0

    def pass_(self, seconds: float) -> None:
        self.us += int(seconds * 1_000_000)
        self.seconds += seconds


class Shown:
    """A system that takes notifications, or refuses them."""

    there = True

    def __init__(self) -> None:
        self.took: list[tuple[str, str]] = []
        self.refuses = False

    def show(self, title: str, text: str) -> bool:
        if not self.refuses:
            self.took.append((title, text))
        return not self.refuses


class Phone:
    """One phone's use cases, and short ways to common starts."""

    def __init__(self, folder, zone: str = "Europe/London", passed_s: float = 0) -> None:
        self.time = Time()
        self.time.pass_(passed_s)
        self.shown = Shown()
        self.kit = bootstrap(
            folder,
            main=lambda work: work(),
            zone=zone,
            clock=Clock(lambda: self.time.us, lambda: self.time.seconds),
            entropy=random.Random(7).randbytes,
            devices=replace(desktop_devices(), notices=self.shown, finding=NoFinding()),
        )
        self.notebook = self.kit.notebook

    @property
    def book(self):
        return self.notebook.book

    def set_up(self, hives: int, country: str = "GB") -> str:
        """Have an apiary with hives 1 to n; return its id."""
        setup = Setup(self.notebook)
        setup.country = next(each for each in COUNTRIES if each.code == country)
        setup.hives = hives
        setup.finish()
        return str(self.notebook.local.get("apiary"))

    def start(self, treatment: str) -> Start:
        """Set up a round at the apiary used last."""
        start = Start.at(self.notebook, self.notebook.local.get("apiary"))
        start.treatment = treatment
        start.settle_amount()
        return start

    def hives(self) -> list[str]:
        apiary = self.notebook.local.get("apiary")
        return [stop.hive for stop in self.book.walk(apiary, self.notebook.today())]

    def write(self, kind: str, body: dict, **envelope):
        """Write one record as a use case would."""
        notebook = self.notebook
        draft = Draft(kind, notebook.moment(), notebook.keeper, body, **envelope)
        return notebook.write([draft])[0]

    def records(self, kind: str):
        return [r for _, r in self.notebook.journal.arrivals() if r.kind == kind]
