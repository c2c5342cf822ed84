"""The whole program in the test's window, with the test's clock, on files of its own."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

from driver import Driver, Phone
from kivy.clock import Clock as KivyClock

from fieldapp.bootstrap import bootstrap, close
from fieldapp.device.devices import desktop_devices
from fieldapp.device.finding import NoFinding
from fieldapp.journal.ids import Entropy
from fieldapp.rounds.clock import Clock
from fieldapp.screens.app import RoundsApp
from fieldapp.words import Speech

PHONE = Phone(412, 892, 1.0)

#: 1 July 2026, 09:00 in London.
MORNING_US = 1_782_892_800_000_000


class Buzzer:
    """A motor that notes what it was asked for."""

    there = True

    def __init__(self) -> None:
        self.felt: list[str] = []

    def tap(self) -> None:
        self.felt.append("tap")

    def undo(self) -> None:
        self.felt.append("undo")

    def over(self) -> None:
        self.felt.append("over")


class Speaker:
    """A voice that notes what it said."""

    there = True

    def __init__(self) -> None:
        self.said: list[str] = []
        self.languages: list[str] = []

    def speak(self, text: str, language: str) -> None:
        self.said.append(text)
        self.languages.append(language)


def overhear(speech: Speech, english: dict[str, str]) -> None:
    """Note of all that is said what it means in English."""

    class Overheard(Speech):
        def __call__(self, phrase):
            said = super().__call__(phrase)
            english[said] = Speech(habits=self.habits)(phrase)
            return said

    speech.__class__ = Overheard


class Shown:
    """A system that takes notifications."""

    there = True

    def __init__(self) -> None:
        self.took: list[tuple[str, str]] = []

    def show(self, title: str, text: str) -> bool:
        self.took.append((title, text))
        return True


class Running:
    """The program and the hands that use it."""

    def __init__(
        self,
        folder: Path,
        phone: Phone,
        language: str = "en",
        now_us: int = MORNING_US,
        entropy: Entropy = os.urandom,
        **devices,
    ) -> None:
        self.folder = folder
        self.language = language
        self.entropy = entropy
        self.hand = Driver(phone, now_us)
        self.buzzer, self.speaker = Buzzer(), Speaker()
        self._devices = replace(
            desktop_devices(),
            **{"vibration": self.buzzer, "voice": self.speaker, "finding": NoFinding(), **devices},
        )
        self.open()

    def open(self) -> None:
        """Start the program on its folder."""
        hands = self.hand.hands
        self.kit = bootstrap(
            self.folder,
            main=lambda work: KivyClock.schedule_once(lambda _: work(), 0),
            zone="Europe/London",
            language=self.language,
            clock=Clock(lambda: hands.now_us, lambda: hands.seconds),
            entropy=self.entropy,
            devices=self._devices,
        )
        overhear(self.kit.speech, self.hand.english)
        self.app = RoundsApp(self.kit)
        self.hand.show(self.app.build())
        self.app.on_start()
        self.hand.frames(2)

    def close(self) -> None:
        self.app.on_stop()
        close(self.kit)
        self.hand.clear()

    def reopen(self) -> None:
        """Close the program and start it again."""
        self.close()
        self.open()

    def wait(self, seconds: float) -> None:
        """Let time pass with nobody touching the phone."""
        self.hand.hands.pass_(seconds)
        self.app.tick()
        self.hand.frames(2)

    @property
    def page(self) -> str:
        return self.app.flow.stage.page.name

    @property
    def records(self):
        return [record for _, record in self.kit.notebook.journal.arrivals()]

    def kinds(self) -> list[str]:
        return [record.kind for record in self.records]

    def set_up(self, apiary: str, hives: int, country: str = "Great Britain") -> None:
        """Go through the first start in taps."""
        hand = self.hand
        hand.tap_entry()
        hand.type("Keeper")
        hand.tap("Go on")
        hand.find(country)
        hand.tap(country)
        hand.tap_entry()
        hand.type(apiary)
        hand.tap("Go on")
        for digit in str(hives):
            hand.find(digit)
            hand.tap(digit, exactly=True)
        hand.tap("Take this")

    def begin(self, treatment: str, days: str | None = None) -> None:
        """Begin a round at the apiary on the first page."""
        hand = self.hand
        hand.tap("Round at")
        hand.find(treatment)
        hand.tap(treatment)
        if self.page == "label":
            if days is None:
                hand.find("Not on the label")
                hand.tap("Not on the label")
            else:
                hand.find("Enter the days")
                hand.tap("Enter the days")
                for digit in days:
                    hand.find(digit)
                    hand.tap(digit, exactly=True)
                hand.tap("Take this")
        hand.tap("As shown")
