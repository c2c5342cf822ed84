"""Stock that leaves the shelf or is counted there: disposed of, counted, a batch put right."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from fieldapp.book import Entry
from fieldapp.husbandry.amounts import units
from fieldapp.husbandry.ledger import Lot
from fieldapp.journal.record import Draft
from fieldapp.rounds.desk_form import (
    BookForm,
    Dated,
    Measured,
    Question,
    Written,
)
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

#: How stock is disposed of, as the record has it; others are written.
HOW = (
    "given back to the supplier",
    "collection of hazardous waste",
    "pharmacy or veterinarian",
    "as its label says",
    "spilt",
    "given to another keeper",
)
#: Why, as the note beside the record has it.
WHY: dict[str, Phrase] = {
    "past its last day": say("past its last day"),
    "left over": say("left over"),
    "spoilt": say("spoilt"),
    "called back": say("called back"),
    "other": say("other reason"),
}
#: Years ahead to which a batch can be kept.
_KEEP_YEARS = 2


class Disposal(BookForm):
    """An amount that leaves the stock other than into a hive; a `Form`."""

    kind = "disposed"

    def __init__(self, notebook: Notebook, lot: Lot, entry: Entry | None = None) -> None:
        super().__init__(
            notebook, f"disposal {lot.id}", fixed={"lot": lot.id, "unit": lot.unit}, entry=entry
        )
        self._lot = lot

    @property
    def title(self) -> Phrase:
        """What is asked."""
        return say("Disposed of: {lot}", lot=self._lot.name)

    @property
    def questions(self) -> Sequence[Question]:
        """How much, how and where; why, of a new one."""
        left = self._lot.on_hand
        all_of_it = (
            (left, say("all on hand: {n} {unit}", n=left, unit=units(self._lot.unit, left))),
        )
        asked: tuple[Question, ...] = (
            Measured(
                "amount",
                say("How much"),
                self._lot.unit,
                1e6,
                all_of_it if left > 0 else (),
                needed=True,
            ),
            Written("how", say("In which way"), 200, HOW),
            Written("where", say("Where"), 200),
            self.day_asked(say("On which day")),
        )
        if self.entry is not None:
            return asked
        return (*asked, Choice("why", say("Why"), tuple(WHY.items())))

    @property
    def remarks(self) -> Sequence[Told]:
        """Defer to label and rules; say what does not add up."""
        words = say("As its label and local rules say: never into a drain, a stream or a hive")
        told = [Told("quiet", words)]
        if self.values.get("amount", 0) > self._lot.on_hand and self.entry is None:
            words = say(
                "The books say {n} {unit} on hand: the rest becomes a gap with a name",
                n=self._lot.on_hand,
                unit=units(self._lot.unit, self._lot.on_hand),
            )
            told.append(Told("late", words))
        return told

    def drafts(self) -> list[Draft]:
        """Return the record, and why as a note beside it."""
        why = self.values.get("why")
        found = super().drafts()
        if self.entry is not None:
            return found
        body = {name: value for name, value in found[0].body.items() if name != "why"}
        disposed = found[0]._replace(body=body)
        if why is None:
            return [disposed]
        disposed = disposed._replace(id=self._notebook.new_id())
        note = Draft(
            "note", disposed.happened, disposed.keeper, {"words": why}, adds_to=disposed.id
        )
        return [disposed, note]


class Counting(BookForm):
    """What is on the shelf of a lot, counted; a `Form`."""

    kind = "on_hand"

    def __init__(self, notebook: Notebook, lot: Lot, entry: Entry | None = None) -> None:
        super().__init__(
            notebook, f"on hand {lot.id}", fixed={"lot": lot.id, "unit": lot.unit}, entry=entry
        )
        self._lot = lot

    @property
    def title(self) -> Phrase:
        """What is asked."""
        return say("Count it: {lot}", lot=self._lot.name)

    @property
    def questions(self) -> Sequence[Question]:
        """How much is there."""
        return (
            Measured("amount", say("How much is there"), self._lot.unit, 1e6, needed=True),
            self.day_asked(say("On which day")),
        )

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what the books say, and what a difference becomes."""
        told = [Told("quiet", self._lot.balance)]
        counted = self.values.get("amount")
        if counted is not None and self.entry is None and counted != self._lot.on_hand:
            words = say("The difference gets a name and stays in the books")
            told.append(Told("unknown", words))
        return told


class BatchRight(BookForm):
    """A batch put right: how much it was, and until when it may be used; a `Form`."""

    kind = "batch"

    def __init__(self, notebook: Notebook, entry: Entry) -> None:
        super().__init__(notebook, "batch", entry=entry)

    @property
    def title(self) -> Phrase:
        """What is asked."""
        return say("A batch: put right")

    @property
    def questions(self) -> Sequence[Question]:
        """Amount, last day, and in words."""
        today = self._notebook.today()
        weeks = tuple(self.day + timedelta(weeks=n) for n in (1, 2, 4))
        return (
            Measured("amount", say("How much was made"), self.values["unit"], 1e6, needed=True),
            Dated("keep_until", say("Keep until"), today.year - 1, today.year + _KEEP_YEARS, weeks),
            Written("words", say("Words"), 300),
            self.day_asked(say("Mixed on")),
        )

    @property
    def remarks(self) -> Sequence[Told]:
        """Say that no days are published."""
        return (Told("quiet", say("How long it keeps is your own decision: none is published")),)
