"""What wears or expires: applicators, their parts, respirator filters; how long they ran."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fieldapp.book import Entry
from fieldapp.husbandry.ledger import Gear
from fieldapp.husbandry.ledger.due import AHEAD, NEARLY
from fieldapp.journal.record import Draft
from fieldapp.rounds.desk_form import (
    BookForm,
    Dated,
    Measured,
    Question,
    Written,
    day_over,
)
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import correction_of, entry_of, note_on
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, say

#: What gear can be, by the word that records have.
WHAT: dict[str, Phrase] = {
    "filter": say("respirator filter"),
    "part": say("part that wears"),
    "applicator": say("applicator"),
    "thermometer": say("thermometer"),
    "other": say("other"),
}
#: Parts are kept with the hours that they ran, and filters with their days.
_RUNS = frozenset({"part", "applicator"})
#: Years ahead for which a filter may be good.
_GOOD_YEARS = 10


class GearLine(NamedTuple):
    """A thing as a list shows it: its name, what it is, and how it stands."""

    id: str
    sign: Sign
    name: str
    what: Phrase
    told: tuple[Told, ...]


class GearForm(BookForm):
    """A thing written down, or put right; a `Form`. `old` is the one whose place it takes."""

    kind = "gear"

    def __init__(
        self, notebook: Notebook, old: Gear | None = None, entry: Entry | None = None
    ) -> None:
        super().__init__(notebook, f"gear after {old.id}" if old else "gear", entry=entry)
        self._old = old
        if old is not None:
            body = old.record.body
            again = ("what", "name", "of", "change_after_hours")
            same = {name: body[name] for name in again if name in body}
            if old.what in _RUNS:
                same["hours"] = 0
            self.values = {**same, **self.values}

    @property
    def title(self) -> Phrase:
        """What is asked."""
        if self.entry is not None:
            return say("Gear: put right")
        if self._old is not None:
            return say("New in place of: {name}", name=self._old.name)
        return say("New gear")

    @property
    def questions(self) -> Sequence[Question]:
        """What it is, then what bears on how long it may be used."""
        what = self.values.get("what")
        name = say("Type, as printed on it") if what == "filter" else say("Name")
        asked: list[Question] = [
            Choice("what", say("What is it"), tuple(WHAT.items()), needed=True),
            Written("name", name, 80, self._names(), needed=True),
        ]
        machines = tuple((each.id, each.name) for each in gear_in_use(self._notebook, "applicator"))
        if what == "part" and machines:
            asked.append(Choice("of", say("Part of"), machines))
        if what == "filter":
            today = self._notebook.today()
            asked.append(day_over(self._notebook, "opened", say("Opened on")))
            asked.append(
                Dated(
                    "expiry",
                    say("Last day"),
                    today.year - 1,
                    today.year + _GOOD_YEARS,
                    ends=True,
                )
            )
        if what in _RUNS:
            new = ((0.0, say("none: it is new")),)
            asked.append(Measured("hours", say("Hours run before"), say("h"), 100_000, new))
            asked.append(Measured("change_after_hours", say("Change after"), say("h"), 10_000))
        return (*asked, self.day_asked(say("In use since")))

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what is not known and where it stands."""
        what = self.values.get("what")
        if what == "filter":
            told = [Told("quiet", say("Against acid vapour: particles and acid gas, both"))]
            if "expiry" not in self.values:
                words = say("Its last day after opening stands in its maker's words: not known")
                told.append(Told("unknown", words))
            return told
        if what in _RUNS and "change_after_hours" not in self.values:
            return (Told("unknown", say("After how many hours it is changed: not known")),)
        return ()

    def drafts(self) -> list[Draft]:
        """Return the record, and what ends the thing whose place it takes."""
        found = super().drafts()
        if self._old is not None:
            old = entry_of(self._notebook, self._old.id)
            found += ended(self._notebook, old)
        return found

    def _names(self) -> tuple[str, ...]:
        what = self.values.get("what")
        known = [each.name for each in self._notebook.shelf.ledger().gear if each.what == what]
        return tuple(dict.fromkeys(reversed(known)))


def gear_in_use(notebook: Notebook, *what: str) -> list[Gear]:
    """Return what was not thrown away, oldest first; only of some sorts where they are named."""
    return [
        each
        for each in notebook.shelf.ledger().gear
        if each.in_use and (not what or each.what in what)
    ]


def ended(notebook: Notebook, entry: Entry) -> list[Draft]:
    """Return what says that a thing was thrown away: a correction and when that was."""
    held = entry.holds
    draft = correction_of(entry, held, {**held.body, "ended": True}, void=False)
    return [draft, note_on(notebook, entry, "thrown away")]


def throw_away(notebook: Notebook, gear: str) -> None:
    """Write down that a thing was thrown away."""
    notebook.write(ended(notebook, entry_of(notebook, gear)))


def gear_lines(notebook: Notebook) -> list[GearLine]:
    """Return what is in use: what is to be changed first."""
    today = notebook.today()
    lines = [gear_line(each, today) for each in gear_in_use(notebook)]
    return sorted(lines, key=lambda line: _ORDER[line.sign])


def gear_line(thing: Gear, today: date) -> GearLine:
    """Return one thing: its sign is the worst of what there is to say of it."""
    since = say("in use since {day}", day=date.fromisoformat(thing.record.day))
    told = [*_days(thing, today), *_hours(thing), Told("quiet", since)]
    sign = min((each.sign for each in told), key=_ORDER.__getitem__)
    return GearLine(thing.id, sign, thing.name, WHAT.get(thing.what, say("other")), tuple(told))


_ORDER: dict[Sign, int] = {"late": 0, "due": 1, "unknown": 2, "done": 3, "quiet": 4}


def _days(thing: Gear, today: date) -> list[Told]:
    """Return until when it may be used; of a filter always, for nobody sees it."""
    told: list[Told] = []
    if thing.what == "filter":
        opened = thing.opened
        if opened is not None:
            told.append(Told("quiet", say("opened on {day}", day=opened)))
        else:
            told.append(Told("unknown", say("opening date not known")))
    if thing.expiry is not None:
        soon = today >= thing.expiry - timedelta(days=AHEAD)
        sign: Sign = "late" if today > thing.expiry else "due" if soon else "done"
        told.append(Told(sign, say("last day {day}", day=thing.expiry)))
    elif thing.what == "filter" and thing.change_after is None:
        told.append(Told("unknown", say("last day not known: see its maker's words")))
    return told


def _hours(thing: Gear) -> list[Told]:
    """Return how long it ran, of what is changed after so many hours."""
    if thing.what not in _RUNS:
        return []
    most, hours = thing.change_after, thing.hours
    if most is None:
        words = say("after how many hours it is changed is not known")
        return [Told("quiet", thing.running), Told("unknown", words)]
    if hours is None:
        return [Told("unknown", thing.running)]
    if hours >= NEARLY * most:
        return [Told("late" if hours >= most else "due", thing.running)]
    return [Told("done", thing.running)]
