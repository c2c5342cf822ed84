"""Speaks phrases in one language, with dates and numbers in a country's habits."""

from __future__ import annotations

import gettext
from datetime import date

from fieldapp.words.habits import Habits
from fieldapp.words.languages import SOURCE
from fieldapp.words.phrase import Arg, Degrees, Phrase, say

# fmt: off
_MONTHS = (
    say("Jan"), say("Feb"), say("Mar"), say("Apr"), say("May"), say("Jun"),
    say("Jul"), say("Aug"), say("Sep"), say("Oct"), say("Nov"), say("Dec"),
)
# fmt: on

#: Under this context stand the texts that assets hold, so that no name is taken for one of them.
HELD = "held"

#: How far a whole degF may be off once it was a tenth of a degC, and a little more.
_A_TENTH = 0.101


class Speech:
    """Turns phrases into text.

    `translations` is a gettext catalogue; the default speaks the English msgids. `habits` are
    those of the keeper's country.
    """

    def __init__(
        self,
        translations: gettext.NullTranslations | None = None,
        habits: Habits | None = None,
    ) -> None:
        self.change(translations or gettext.NullTranslations(), habits or Habits())

    def change(self, translations: gettext.NullTranslations, habits: Habits) -> None:
        """Speak another language, or in another country's habits, from now on."""
        self._translations = translations
        self.habits = habits

    @property
    def language(self) -> str:
        """The language spoken (BCP 47)."""
        return self._translations.info().get("language", SOURCE)

    def __call__(self, phrase: Phrase | str) -> str:
        """Return a phrase as text, or a text that a record or an asset holds.

        Of the latter, one of the treatment library or the tables is spoken; a name, a number, a
        keeper's own words stay as they stand.
        """
        if isinstance(phrase, str):
            return self._translations.pgettext(HELD, phrase) if phrase else phrase
        if phrase.plural:
            template = self._translations.ngettext(phrase.text, phrase.plural, phrase.number)
        else:
            template = self._translations.gettext(phrase.text)
        if not phrase.args:
            return template
        return template.format(**{name: self._spoken(value) for name, value in phrase.args})

    def day(self, value: date) -> str:
        """Return a date, ``3 Aug 2026`` or as the country writes it."""
        month = self(_MONTHS[value.month - 1])
        return self.habits.day.format(day=value.day, month=month, year=value.year)

    def number(self, value: float) -> str:
        """Return a number with the country's decimal mark, and no more figures than it has."""
        return f"{value:.6g}".replace(".", self.habits.decimal)

    def degrees(self, value: Degrees) -> str:
        """Return a temperature, ``29.5 °C`` or ``85 °F``."""
        fahrenheit = self.habits.degrees == "F"
        degrees = value.celsius * 9 / 5 + 32 if fahrenheit else value.celsius
        whole = round(degrees)
        # 85 °F is kept as 29.4 degC and published as 29.5: within a tenth it is the whole degree.
        if value.about or (fahrenheit and abs(degrees - whole) < _A_TENTH):
            return f"{whole} °{self.habits.degrees}"
        return f"{self.number(round(degrees, 1) + 0.0)} °{self.habits.degrees}"

    def _spoken(self, value: Arg) -> str:
        if isinstance(value, Phrase | str):
            return self(value)
        if isinstance(value, Degrees):
            return self.degrees(value)
        if isinstance(value, date):
            return self.day(value)
        if isinstance(value, float):
            return self.number(value)
        return str(value)
