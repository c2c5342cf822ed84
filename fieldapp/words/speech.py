"""Speaks phrases in one language, with dates and numbers in a country's habits."""

from __future__ import annotations

import gettext
from datetime import date

from fieldapp.words.habits import Habits
from fieldapp.words.phrase import Arg, Degrees, Phrase

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

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
        self._translations = translations or gettext.NullTranslations()
        self.habits = habits or Habits()

    def __call__(self, phrase: Phrase) -> str:
        """Return the phrase as text."""
        if phrase.plural:
            template = self._translations.ngettext(phrase.text, phrase.plural, phrase.number)
        else:
            template = self._translations.gettext(phrase.text)
        if not phrase.args:
            return template
        return template.format(**{name: self._spoken(value) for name, value in phrase.args})

    def day(self, value: date) -> str:
        """Return a date, ``3 Aug 2026`` or as the country writes it."""
        month = self._translations.pgettext("month", _MONTHS[value.month - 1])
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
        if isinstance(value, Phrase):
            return self(value)
        if isinstance(value, Degrees):
            return self.degrees(value)
        if isinstance(value, date):
            return self.day(value)
        if isinstance(value, float):
            return self.number(value)
        return str(value)
