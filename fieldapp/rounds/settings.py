"""The settings of this phone, each as a question whose answer holds at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldapp.journal.record import Draft
from fieldapp.rounds import hours
from fieldapp.rounds.apiaries import attributes
from fieldapp.rounds.desk_form import Question, Written
from fieldapp.rounds.language import UNITS, Language
from fieldapp.rounds.local import DEVICE, PHONE
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.setup import COUNTRIES
from fieldapp.words import Phrase, say

THEME, SPEAKS, VOLUME = "theme", "speaks", "volume key"
_SYSTEM = "system"
_COUNTRY = "country "
_ON, _OFF, _NEVER = "on", "off", "never"
_ON_OFF = ((_ON, say("on")), (_OFF, say("off")))
#: Settings that are on or off, and those that are hours.
_SWITCHES = (SPEAKS, VOLUME)
_HOURS = (hours.MORNING, hours.QUIET_FROM, hours.QUIET_TO)


class Settings:
    """Shows and takes settings; what follows of one outside this phone's table is done too.

    `rename` is told the name of this device. Nothing here is synced but a country, which
    belongs to an apiary and is a record.
    """

    def __init__(
        self, notebook: Notebook, language: Language, rename: Callable[[str], None]
    ) -> None:
        self._notebook = notebook
        self._language = language
        self._rename = rename

    @property
    def values(self) -> dict[str, Any]:
        """The settings as they hold now."""
        local, kept = self._notebook.local, hours.Hours.kept(self._notebook.local)
        found = {
            "language": self._language.chosen or _SYSTEM,
            "units": local.get(UNITS, "country"),
            THEME: local.get(THEME, "sun"),
            **{name: _ON if local.get(name, False) else _OFF for name in _SWITCHES},
            hours.MORNING: str(kept.morning),
            hours.QUIET_FROM: _NEVER if kept.quiet_from is None else str(kept.quiet_from),
            hours.QUIET_TO: str(kept.quiet_to),
            DEVICE: local.get(DEVICE, PHONE),
        }
        for place in self._notebook.book.apiaries(self._notebook.today()):
            if place.country:
                found[f"{_COUNTRY}{place.id}"] = place.country
        return found

    @property
    def questions(self) -> list[Question]:
        """The settings in the order in which they are shown."""
        local = self._notebook.local
        quiet = local.get(hours.QUIET_FROM) is not None
        places = self._notebook.book.apiaries(self._notebook.today())
        countries = tuple((country.code, country.name) for country in COUNTRIES)
        languages: tuple[tuple[str, Phrase | str], ...] = (
            (_SYSTEM, say("as this phone")),
            *self._language.choices(),
        )
        asked: list[Question] = [
            Choice("language", say("Language"), languages),
            *(
                Choice(
                    f"{_COUNTRY}{place.id}", say("Country: {apiary}", apiary=place.name), countries
                )
                for place in places
            ),
            Choice(
                "units",
                say("Units"),
                (
                    ("country", say("as the country has them")),
                    ("metric", say("°C, g and mL")),
                    ("us", say("°F, US cups and spoons too")),
                ),
            ),
            Choice(THEME, say("Colours"), (("sun", say("full sun")), ("dark", say("dark")))),
            Choice(SPEAKS, say("Spoken answers"), _ON_OFF),
            Choice(
                VOLUME,
                say("Volume key"),
                ((_ON, say("taps the round's field")), (_OFF, say("off"))),
            ),
            Choice(hours.MORNING, say("Reminders in the morning at"), _hours(4, 12)),
            Choice(
                hours.QUIET_FROM,
                say("No reminders from"),
                ((_NEVER, say("no quiet hours")), *_hours(17, 23)),
            ),
        ]
        if quiet:
            asked.append(Choice(hours.QUIET_TO, say("No reminders until"), _hours(4, 12)))
        return [*asked, Written(DEVICE, say("Name of this device"), 60)]

    def question(self, name: str) -> Question | None:
        """Return a setting by name."""
        return next((each for each in self.questions if each.name == name), None)

    def take(self, name: str, value: Any) -> None:
        """Let a setting hold from now on.

        Raises `NotSaved` where an apiary's country could not be written down.
        """
        local = self._notebook.local
        if name == "language":
            self._language.use(None if value == _SYSTEM else value)
        elif name.startswith(_COUNTRY):
            self._settle_in(name.removeprefix(_COUNTRY), value)
        elif name in _HOURS:
            local.put(name, None if value == _NEVER else int(value))
        elif name in _SWITCHES:
            local.put(name, value == _ON)
        else:
            local.put(name, value)
        if name == DEVICE:
            self._rename(value or PHONE)
        self._language.settle()

    def _settle_in(self, apiary: str, country: str) -> None:
        """Write down in which country an apiary is: its other attributes stay."""
        notebook = self._notebook
        place = next(each for each in notebook.book.apiaries(notebook.today()) if each.id == apiary)
        if place.country == country:
            return
        body = attributes(notebook, apiary) | {"country": country}
        moment, keeper = notebook.moment(apiary), notebook.keeper or ""
        notebook.write([Draft("apiary", moment, keeper, body, apiary=apiary)])


def _hours(first: int, last: int) -> tuple[tuple[str, Phrase], ...]:
    return tuple((str(hour), say("{hour}:00", hour=hour)) for hour in range(first, last + 1))
