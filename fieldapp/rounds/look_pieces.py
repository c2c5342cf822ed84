"""Pieces by number: out, moved, lost, found, for what one tap of a round cannot say."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldapp.journal.record import Draft
from fieldapp.rounds.look_form import Choice, Kept, Number, Question
from fieldapp.rounds.look_inside import draft_at
from fieldapp.rounds.look_questions import SEEN
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, say

_COUNTS: tuple[tuple[str, Phrase], ...] = (
    ("out", say("Taken out")),
    ("moved", say("Moved in the hive")),
    ("lost", say("Lost")),
    ("found", say("Found, one too many")),
)


class PiecesByNumber(Kept):
    """What was done with the pieces of a hive; a `Form`, one record for each answer.

    `taken_back` are drafts written with them, for what a tap of a round had logged instead.
    """

    def __init__(
        self,
        notebook: Notebook,
        hive: str,
        *,
        treatment: str | None = None,
        round_id: str | None = None,
        taken_back: Sequence[Draft] = (),
    ) -> None:
        super().__init__(notebook, f"pieces of {hive}")
        self._notebook = notebook
        self._hive = hive
        self._round = round_id
        self._taken_back = tuple(taken_back)
        self._state = notebook.book.hive(hive)
        exposures = self._state.exposures
        known = [each.treatment for each in exposures if each.open]
        known += [each.treatment for each in reversed(exposures)]
        self._treatments = [treatment] if treatment else list(dict.fromkeys(known))

    @property
    def title(self) -> Phrase:
        """Which hive."""
        return say("Hive {number}: pieces", number=self._state.number)

    @property
    def questions(self) -> Sequence[Question]:
        """How many of each; of which treatment, and how a loss is known, where it matters."""
        found: list[Question] = []
        if len(self._treatments) > 1:
            names = tuple((each, self._name(each)) for each in self._treatments)
            found.append(Choice("treatment", say("Of which treatment"), names))
        found += [Number(name, words, 12) for name, words in _COUNTS]
        return [*found, SEEN] if self.values.get("lost") else found

    @property
    def remarks(self) -> Sequence[Told]:
        """What is in by the records, and what a loss means."""
        if not self._treatments:
            words = say("No pieces were ever recorded here. Log the treatment first.")
            return (Told("unknown", words),)
        inside = sum(
            each.remaining
            for each in self._state.exposures
            if each.open and each.treatment == self._treatment
        )
        said = count("{n} piece in by the records", "{n} pieces in by the records", inside)
        remarks = [Told("due" if inside else "quiet", said)]
        if self.values.get("lost") and self.values.get("seen") in (None, "not found"):
            words = say("A piece that is not found stays open, and keeps the honey closed.")
            remarks.insert(0, Told("late", words))
        return remarks

    @property
    def ready(self) -> bool:
        """Whether a number was said, and of what is known."""
        return self._treatment is not None and any(self.values.get(name) for name, _ in _COUNTS)

    def save(self) -> Phrase:
        """Write a record for each number said."""
        drafts = [
            draft_at(self._notebook, self._hive, "pieces", self._body(name))
            for name, _ in _COUNTS
            if self.values.get(name)
        ]
        self._notebook.write([*self._taken_back, *drafts])
        self.forget()
        return say("Hive {number}: pieces saved", number=self._state.number)

    @property
    def _treatment(self) -> str | None:
        first = self._treatments[0] if self._treatments else None
        return self.values.get("treatment", first)

    def _body(self, did: str) -> dict[str, Any]:
        body: dict[str, Any] = {
            "did": did,
            "count": self.values[did],
            "treatment": self._treatment,
        }
        if did == "lost":
            body["seen"] = self.values.get("seen", "not found")
        if self._round is not None:
            body["round"] = self._round
        return body

    def _name(self, treatment: str) -> str:
        terms = self._notebook.book.terms().get(treatment)
        return terms.name if terms is not None else treatment
