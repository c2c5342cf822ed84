"""One record of a hive: what it says, what corrected it, and how versions are settled.

Why a correction was made is a note beside the record, in one of a few words that can be
translated.
"""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.husbandry.vocabulary import WHY_OTHERWISE
from fieldapp.journal import happened
from fieldapp.journal.called import kind_called
from fieldapp.journal.record import Record
from fieldapp.rounds.hive_words import fields_of
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import correction_of, entry_of, note_on
from fieldapp.words import Phrase, say

#: Why a record is put right or taken back, as the note beside it has it.
REASONS: dict[str, Phrase] = {
    "slip": say("slip"),
    "wrong hive": say("wrong hive"),
    "wrong day": say("wrong day"),
    "wrong number": say("wrong number"),
    "misread": say("misread"),
    "logged twice": say("logged twice"),
    "did not happen": say("did not happen"),
    "other": say("other reason"),
}


class Change(NamedTuple):
    """One correction of a record: who made it, and what it says now."""

    words: Phrase
    differences: tuple[Phrase, ...]


class RecordView:
    """A record as its page shows it."""

    def __init__(self, notebook: Notebook, hive: str, root: str) -> None:
        self._notebook = notebook
        self.hive = hive
        self.entry = entry_of(notebook, root)

    @property
    def number(self) -> str:
        """The number of the hive it is about, empty where it is about none."""
        hive = self.entry.holds.hive or self.hive
        return self._notebook.book.hive(hive).number if hive else ""

    @property
    def kind(self) -> Phrase | str:
        """What the record is called."""
        return kind_called(self.entry.root.kind)

    @property
    def made(self) -> Phrase:
        """Day, time and keeper of the version that holds."""
        return self._when(self.entry.holds)

    def says(self) -> list[Phrase]:
        """Return what the version that holds says, field by field."""
        return list(fields_of(self._notebook, self.entry.holds).values())

    def changes(self) -> list[Change]:
        """Return the corrections, oldest first, each with what it changed."""
        before, found = self.entry.root, []
        for each in self.entry.corrections:
            said = say("Taken back: {who}", who=self._when(each, stamped=True))
            if not each.void:
                said = say("Corrected: {who}", who=self._when(each, stamped=True))
            found.append(Change(said, tuple(self._differences(before, each))))
            before = each
        return found

    def notes(self) -> list[Phrase]:
        """Return the words beside the record: reasons and notes."""
        return [
            say("{day}: {words}", day=happened.civil(each.happened), words=_reason(each))
            for each in self.entry.annexes
            if each.kind == "note"
        ]

    def photos_taken_back(self) -> list[Phrase]:
        """Return the photos that stood beside it and were taken back, each by its day."""
        return [
            say("Photo of {day}: taken back", day=happened.civil(each.happened))
            for each in self.entry.withdrawn
            if each.kind == "photo"
        ]

    def places(self) -> int:
        """Return how many positions stand beside it."""
        return sum(each.kind == "position" for each in self.entry.annexes)

    @property
    def asks(self) -> bool:
        """Whether versions stand side by side and the keeper is asked which holds."""
        return len(self.entry.versions) > 1

    def version_words(self, at: int) -> list[Phrase]:
        """Return what one of the versions side by side says."""
        record = self.entry.versions[at]
        taken_back = [say("taken back")] if record.void else []
        return [self._when(record), *taken_back, *fields_of(self._notebook, record).values()]

    def settle(self, at: int) -> None:
        """Answer which version holds: a correction that repeats it and names every head."""
        held = self.entry.versions[at]
        self._notebook.write([correction_of(self.entry, held, held.body, void=held.void)])

    def add_words(self, words: str) -> None:
        """Add words to the record; what it says stays as it is."""
        if words.strip():
            self._notebook.write([note_on(self._notebook, self.entry, words.strip())])

    def _differences(self, before: Record, after: Record) -> list[Phrase]:
        was, now = fields_of(self._notebook, before), fields_of(self._notebook, after)
        found = [phrase for name, phrase in now.items() if was.get(name) != phrase]
        found += [
            say("no longer: {field}", field=phrase)
            for name, phrase in was.items()
            if name not in now
        ]
        if before.happened[:10] != after.happened[:10]:
            found.insert(0, say("Day: {day}", day=happened.civil(after.happened)))
        if before.hive != after.hive and after.hive is not None:
            number = self._notebook.book.hive(after.hive).number
            found.insert(0, say("Hive {number}", number=number))
        return found

    def _when(self, record: Record, *, stamped: bool = False) -> Phrase:
        keepers = self._notebook.shelf.keepers()
        who = keepers.get(record.keeper) or say("keeper not known")
        moment = record.happened
        if stamped:
            zone = self._notebook.zone_of(record.apiary)
            moment = happened.format(int(record.stamp[:12], 16) * 1000, zone)
        return say("{day}, {time}, {who}", day=happened.civil(moment), time=moment[11:16], who=who)


def _reason(note: Record) -> Phrase | str:
    words = str(note.body["words"])
    known = REASONS.get(words) or WHY_OTHERWISE.get(words)
    return say("why: {why}", why=known) if known is not None else words
