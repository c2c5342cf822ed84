"""The weather of an apiary, entered day by day in taps: forecast or measured."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any, Literal, NamedTuple

from fieldapp.husbandry.choosing.situation import Weather
from fieldapp.journal.record import Draft
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Degrees, Phrase, say

Part = Literal["high", "mean", "low"]

#: Days that the list shows, from today.
AHEAD = 14
#: For how many days one entry may stand: a day, a label's first days, weeks, a thymol course.
SPREADS = (1, 4, 7, 14, 28, 56)
#: degC from which a temperature is stepped where none was entered before it.
BEGIN = 15.0

PARTS: dict[Part, Phrase] = {"high": say("Highest"), "mean": say("Mean"), "low": say("Lowest")}


class Day(NamedTuple):
    """One day of the list; `words` says its temperatures, `known` whether any is."""

    day: date
    words: Phrase
    known: bool


class Outlook:
    """The temperatures entered for an apiary, from today on."""

    def __init__(self, notebook: Notebook, apiary: str) -> None:
        self._notebook = notebook
        self.apiary = apiary
        self.today = notebook.today(apiary)

    @property
    def place(self) -> str:
        """The name of the apiary."""
        return self._notebook.place_name(self.apiary)

    def days(self) -> list[Day]:
        """Return the days ahead with what was entered for them."""
        known = self._notebook.shelf.outlook(self.apiary)
        found = []
        for ahead in range(AHEAD):
            day = self.today + timedelta(days=ahead)
            entry = known.get(day)
            words = say("not entered")
            if entry is not None:
                words = _words(entry.weather)
                if not entry.forecast:
                    words = say("{temperatures}, measured", temperatures=words)
            found.append(Day(day, words, entry is not None))
        return found

    def enter(self, day: date) -> DayEntry:
        """Begin to enter a day, from what stands for it."""
        return DayEntry(self._notebook, self.apiary, day)


def _words(weather: Weather) -> Phrase:
    return say(
        "high {high}, mean {mean}, low {low}",
        high=said(weather.high),
        mean=said(weather.mean),
        low=said(weather.low),
    )


def said(value: float | None) -> Degrees | Phrase:
    """Return a temperature as it is spoken; *not known* where it is not."""
    return say("not known") if value is None else Degrees(value)


def _whole_degf(celsius: float) -> float:
    """Return a temperature that steps in degF left beside a whole one as that whole one."""
    degf = celsius * 9 / 5 + 32
    near = round(degf)
    return round((near - 32) * 5 / 9, 4) if abs(degf - near) < 0.001 else celsius


class DayEntry:
    """One day's temperatures being entered; nothing is written before `save`."""

    def __init__(self, notebook: Notebook, apiary: str, day: date) -> None:
        self._notebook = notebook
        self._apiary = apiary
        self.day = day
        self._known = notebook.shelf.outlook(apiary)
        entry = self._known.get(day)
        weather = Weather() if entry is None else entry.weather
        self.values: dict[Part, float | None] = {
            "high": weather.high,
            "mean": weather.mean,
            "low": weather.low,
        }
        self.forecast = True if entry is None else entry.forecast
        self.spread = 1

    def step(self, part: Part, degrees: float) -> None:
        """Change a temperature by so many degC; the first tap on an unknown one begins it."""
        value = self.values[part]
        if value is None:
            self.values[part] = self._begin(part)
        else:
            self.values[part] = min(60.0, max(-60.0, _whole_degf(round(value + degrees, 4))))

    def forget(self) -> None:
        """Have all three not known again."""
        self.values = dict.fromkeys(self.values)

    def turn_kind(self) -> None:
        """Go from forecast to measured and back."""
        self.forecast = not self.forecast

    def turn_spread(self) -> None:
        """Go to the next number of days for which the entry stands."""
        self.spread = SPREADS[(SPREADS.index(self.spread) + 1) % len(SPREADS)]

    @property
    def last(self) -> date:
        """The last day for which the entry stands."""
        return self.day + timedelta(days=self.spread - 1)

    @property
    def wrong(self) -> Phrase | None:
        """Why it cannot be saved as it stands; None where it can."""
        known = [value for value in self.values.values() if value is not None]
        if not known:
            return say("Tap in one temperature at least.")
        if known != sorted(known, reverse=True):
            return say("The highest is not under the mean, nor the mean under the lowest.")
        return None

    def save(self) -> None:
        """Write the temperatures of all days for which the entry stands."""
        values: dict[str, Any] = {
            part: value for part, value in self.values.items() if value is not None
        }
        days: list[dict[str, Any]] = [
            {"day": (self.day + timedelta(days=n)).isoformat()} | values for n in range(self.spread)
        ]
        self._notebook.write(
            [
                Draft(
                    "outlook",
                    self._notebook.moment(self._apiary),
                    self._notebook.keeper or "",
                    {"days": days, "forecast": self.forecast},
                    apiary=self._apiary,
                )
            ]
        )

    def _begin(self, part: Part) -> float:
        """Return where stepping begins: the day before, else this day's others, else 15 degC."""
        before = self._known.get(self.day - timedelta(days=1))
        value: float | None = getattr(before.weather, part) if before is not None else None
        if value is None:
            value = next((each for each in self.values.values() if each is not None), BEGIN)
        return value
