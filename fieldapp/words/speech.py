"""Speaks phrases in one language, with dates and numbers in a country's habits."""

from __future__ import annotations

import gettext
from datetime import date

from fieldapp.words.phrase import Arg, Phrase

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Speech:
    """Turns phrases into text.

    `translations` is a gettext catalogue; the default speaks the English msgids.
    """

    def __init__(self, translations: gettext.NullTranslations | None = None) -> None:
        self._translations = translations or gettext.NullTranslations()

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
        """Return a date as ``3 Aug 2026``."""
        month = self._translations.pgettext("month", _MONTHS[value.month - 1])
        return f"{value.day} {month} {value.year}"

    def _spoken(self, value: Arg) -> str:
        if isinstance(value, Phrase):
            return self(value)
        if isinstance(value, date):
            return self.day(value)
        if isinstance(value, float):
            return f"{value:g}"
        return str(value)
