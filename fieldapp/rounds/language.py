"""The language that this phone speaks, and the habits of the country where its hives stand."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.journal.record import Record
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import LANGUAGES, Speech, catalogue, fitting, habits_of, in_units, region

#: Under this name the phone keeps a language that the keeper chose.
SETTING = "language"
#: And under this one units other than those of the country: ``metric`` or ``us``.
UNITS = "units"


class Language:
    """Sets what `speech` speaks: the keeper's choice, else the machine's language.

    `system` is the machine's language (BCP 47). Dates, numbers and units follow the country of
    the apiary used last; before there is one, the country that `system` names.
    """

    def __init__(self, notebook: Notebook, speech: Speech, system: str) -> None:
        self._notebook = notebook
        self._speech = speech
        self._system = system
        self._spoken: tuple[str, str | None, str | None] | None = None
        notebook.on_write(self._written)
        self.settle()

    @property
    def chosen(self) -> str | None:
        """The code of the language that the keeper chose, None where the machine's is spoken."""
        chosen = self._notebook.local.get(SETTING)
        return chosen if chosen in LANGUAGES else None

    @property
    def current(self) -> str:
        """The code of the language spoken."""
        return self.chosen or fitting([self._system])

    def choices(self) -> list[tuple[str, str]]:
        """Return every language as code and own name."""
        return list(LANGUAGES.items())

    def use(self, code: str | None) -> None:
        """Speak a language from now on; None follows the machine again.

        What is on the screen has to be shown anew.
        """
        self._notebook.local.put(SETTING, code)
        self.settle()

    def settle(self) -> None:
        """Take up what may have changed: the setting, or the country by a sync."""
        country = self._notebook.country or region(self._system)
        spoken = self.current, country, self._notebook.local.get(UNITS)
        if spoken != self._spoken:
            self._spoken = spoken
            self._speech.change(catalogue(spoken[0]), in_units(habits_of(country), spoken[2]))

    def _written(self, records: Sequence[Record]) -> None:
        if any(record.kind == "apiary" for record in records):
            self.settle()
