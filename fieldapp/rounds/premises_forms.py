"""Forms of an apiary's register: colonies counted, an inspector's visit, its number, a report."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from fieldapp.book import Entry
from fieldapp.husbandry.vocabulary import COLONIES, HEALTHY
from fieldapp.journal.record import Record
from fieldapp.rounds.apiaries import attributes
from fieldapp.rounds.desk_form import BookForm, Question, Several, Written
from fieldapp.rounds.look_form import Choice, Number
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.premises import Premises
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, say

#: Former answers that are offered to tap.
_OFFERED = 6
_STANDSTILL = (
    ("set", say("set: from this day on")),
    ("lifted", say("lifted: from this day on")),
)


def _former(found: Iterable[tuple[str, Any]]) -> tuple[str, ...]:
    """Return former answers, given with their days, the latest first, each once."""
    said = [str(value) for _, value in sorted(found, reverse=True) if value]
    return tuple(dict.fromkeys(said))[:_OFFERED]


class ColonyCount(BookForm):
    """Colonies counted at an apiary for the register; a `Form`."""

    kind = "colony_count"

    def __init__(self, notebook: Notebook, apiary: str, entry: Entry | None = None) -> None:
        super().__init__(notebook, f"colonies of {apiary}", entry=entry, apiary=apiary)
        self._premises = Premises(notebook, apiary)
        if entry is None:
            # What the records say is shown, and confirmed by saving it.
            self.values.setdefault("number", self._premises.living)

    @property
    def title(self) -> Phrase:
        """What is asked, and where."""
        return say("{apiary}: colonies counted", apiary=self._premises.name)

    @property
    def questions(self) -> Sequence[Question]:
        """How many, when, and to whom they were reported."""
        return (
            Number("number", say("Colonies"), 100_000, needed=True, unit=COLONIES),
            self.day_asked(say("Counted on")),
            Written("reported_to", say("Reported to"), 120, self._offices),
        )

    @property
    def remarks(self) -> Sequence[Told]:
        """Say how many live there by the records."""
        n = self._premises.living
        words = count(
            "By the records {n} colony lives here.", "By the records {n} colonies live here.", n
        )
        return (Told("quiet", words),)

    @property
    def _offices(self) -> tuple[str, ...]:
        return offices(self._notebook)


def offices(notebook: Notebook) -> tuple[str, ...]:
    """Return to whom something was reported before, the latest first."""
    facts = notebook.shelf.ledger().facts
    counts = [(f.record.day, f.record.body.get("reported_to")) for f in facts.kind("colony_count")]
    reports = [(f.record.day, f.record.body["to"]) for f in facts.kind("reported")]
    return _former([*counts, *reports])


class Visit(BookForm):
    """An inspector's visit, with what was found and what of a standstill; a `Form`.

    `standstill` is what is answered already, where one comes to say just that.
    """

    kind = "visit"

    def __init__(
        self, notebook: Notebook, apiary: str, entry: Entry | None = None, standstill: str = ""
    ) -> None:
        super().__init__(notebook, f"visit at {apiary}", entry=entry, apiary=apiary)
        self._premises = Premises(notebook, apiary)
        if standstill and entry is None:
            self.values["standstill"] = standstill

    @property
    def title(self) -> Phrase:
        """What is asked, and where."""
        return say("{apiary}: inspector's visit", apiary=self._premises.name)

    @property
    def questions(self) -> Sequence[Question]:
        """Who, when, what was found, and what of a standstill."""
        return (
            Written("by", say("Who came or wrote"), 120, self._inspectors, needed=True),
            self.day_asked(say("On which day")),
            Written("found", say("What was found"), 1000, (HEALTHY,)),
            Choice("standstill", say("Standstill"), _STANDSTILL),
        )

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what a standstill blocks, and what is on now."""
        said = self.values.get("standstill")
        if said == "set":
            words = say(
                "Until it is lifted nothing here is moved, united or exchanged: the app blocks it."
            )
            return (Told("late", words),)
        blocked = self._premises.standstill
        if blocked is None:
            return ()
        return (Told("late" if said is None else "quiet", blocked.reason.phrase),)

    @property
    def _inspectors(self) -> tuple[str, ...]:
        visits = self._notebook.shelf.ledger().facts.kind("visit")
        return _former([(f.record.day, f.record.body["by"]) for f in visits])


class Registration(BookForm):
    """An apiary's name and registration number from a day on; a `Form`."""

    kind = "apiary"

    def __init__(self, notebook: Notebook, apiary: str, entry: Entry | None = None) -> None:
        known = attributes(notebook, apiary)
        fixed = {name: value for name, value in known.items() if name not in _SAID}
        super().__init__(
            notebook, f"registration of {apiary}", fixed=fixed, entry=entry, apiary=apiary
        )
        self._premises = Premises(notebook, apiary)
        if entry is None:
            for name in _SAID:
                if name in known:
                    self.values.setdefault(name, known[name])

    @property
    def title(self) -> Phrase:
        """What is asked, and of what."""
        return say("{apiary}: name and number", apiary=self._premises.name)

    @property
    def questions(self) -> Sequence[Question]:
        """Its name, its number, and since when."""
        return (
            Written("name", say("Name"), 60, needed=True),
            Written("registration", say("Registration number"), 60),
            self.day_asked(say("Since")),
        )


#: What the form asks; all else of an apiary stays as it is.
_SAID = ("name", "registration")


class Report(BookForm):
    """Counts reported to an office; a `Form`."""

    kind = "reported"

    def __init__(self, notebook: Notebook, apiary: str, entry: Entry | None = None) -> None:
        super().__init__(notebook, f"report of {apiary}", entry=entry, apiary=apiary)
        self._premises = Premises(notebook, apiary)
        kept = entry.holds.body["records"] if entry is not None else ()
        self._known: dict[str, Phrase | str] = {root: self._named(root) for root in kept}
        self._known |= {each.id: _counted(each) for each in self._premises.unreported()}
        if entry is None:
            self.values.setdefault("records", list(self._known))

    def _named(self, root: str) -> Phrase | str:
        record = self._notebook.journal.by_id(root)
        return _counted(record) if record is not None else root

    @property
    def title(self) -> Phrase:
        """What is asked, and of what."""
        return say("{apiary}: reported", apiary=self._premises.name)

    @property
    def questions(self) -> Sequence[Question]:
        """Which counts, to whom, under which number, and when."""
        return (
            Several("records", say("Which counts"), tuple(self._known.items()), needed=True),
            Written("to", say("Reported to"), 120, offices(self._notebook), needed=True),
            Written("reference", say("Number or letter"), 120),
            self.day_asked(say("On which day")),
        )


def _counted(record: Record) -> Phrase:
    day, body = date.fromisoformat(record.day), record.body
    if record.kind == "colony_count":
        return count("{day}: {n} colony", "{day}: {n} colonies", body["number"], day=day)
    return count("{day}: {n} mite", "{day}: {n} mites", body["mites"], day=day)
