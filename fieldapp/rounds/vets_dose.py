"""A veterinarian's document about a mist, written down: dose, who, when, which document."""

from __future__ import annotations

from datetime import date, timedelta

from fieldapp.journal.record import Draft
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.terms import terms_body
from fieldapp.words import Phrase, say

#: The treatment that the library has for this method.
MIST = "any/no-published-label/1/oxalic-acid/mist"


class VetsDose:
    """The document being entered; nothing is written before `save`."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self.grams: float | None = None
        self.name = ""
        self.document = ""
        self.today = notebook.today()
        self.day: date = self.today

    def add_days(self, days: int) -> None:
        """Date the document so many days later or earlier, never after today."""
        self.day = min(self.today, self.day + timedelta(days=days))

    @property
    def country(self) -> str:
        """The country for which it counts: that of the apiary used last."""
        return self._notebook.country or ""

    @property
    def wrong(self) -> Phrase | None:
        """What is missing; None where it can be saved."""
        if not self.country:
            return say("In which country the apiary stands is not known: enter it first.")
        if not self.grams:
            return say("How many g of oxalic acid dihydrate for one colony?")
        if not self.name.strip() or not self.document.strip():
            return say("Who wrote it, and which document? Without both it does not count.")
        return None

    def save(self) -> None:
        """Write it down."""
        notebook = self._notebook
        body = {
            "treatment": terms_body(notebook, MIST)["treatment"],
            "country": self.country,
            "dose": {"amount": self.grams, "unit": "g", "of": "dihydrate", "per": "colony"},
            "given_by": {
                "who": "veterinarian",
                "name": self.name.strip()[:120],
                "day": self.day.isoformat(),
                "document": self.document.strip()[:200],
            },
        }
        notebook.write([Draft("written_dose", notebook.moment(), notebook.keeper or "", body)])
