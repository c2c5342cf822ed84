"""Honey taken: which supers of which hives go into which lot, and what stands against it.

What is closed, exposed or not known is never offered as if it were fine: it is taken by a word
of its own, and goes into the record as it is.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from datetime import date, timedelta
from typing import Any, NamedTuple

from fieldapp.book import Entry
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.state import HiveState, SuperState
from fieldapp.journal.record import Draft
from fieldapp.rounds.desk_form import (
    BookForm,
    Measured,
    Question,
    Several,
    Written,
    day_over,
    moment_on,
)
from fieldapp.rounds.exposed_supers import super_words
from fieldapp.rounds.look_form import Choice, Kept
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Sign, Told
from fieldapp.rounds.wanted import wanted
from fieldapp.words import Phrase, count, say

#: Days after a super came off in which its honey may still be waiting in the store.
STORED_DAYS = 30
#: Days in which a lot may go on.
_GOES_ON = 7
_UNITS: tuple[tuple[str, Phrase], ...] = (("kg", say("kg")), ("lb", say("lb")))
_YES_NO: tuple[tuple[str, Phrase], ...] = (("yes", say("yes")), ("no", say("no")))


class Take(NamedTuple):
    """A super to take (`mark` empty: the unmarked ones of the hive), and what is known of it.

    `fine` is true where nothing on record stands against it; `on` where it stands on its hive.
    """

    hive: str
    mark: str
    words: Phrase
    sign: Sign
    told: Phrase
    reasons: tuple[Phrase, ...]
    on: bool

    @property
    def fine(self) -> bool:
        """Whether nothing on record stands against taking it."""
        return self.sign == "done"

    @property
    def key(self) -> str:
        """What the choice is kept under."""
        return f"{self.hive} {self.mark}"


class Harvest(Kept):
    """A harvest being entered at one apiary; a `Form` of what is asked once supers are chosen."""

    def __init__(self, notebook: Notebook, apiary: str) -> None:
        super().__init__(notebook, f"harvest at {apiary}")
        self._notebook = notebook
        self.apiary = apiary

    # -- which supers

    @property
    def day(self) -> date:
        """The day on which honey is taken off the hives."""
        kept = self.values.get("day")
        return date.fromisoformat(kept) if kept else self._notebook.today(self.apiary)

    @property
    def place(self) -> str:
        """The name of the apiary."""
        return self._notebook.place_name(self.apiary)

    @property
    def day_asked(self) -> Question:
        """The question for the day: what is closed depends on it."""
        return day_over(self._notebook, "day", say("Taken off the hives on"), self.day)

    def takes(self) -> list[Take]:
        """Return what can be taken: hive by hive in walk order, what is fine first."""
        book = self._notebook.book
        found: list[Take] = []
        for stop in book.walk(self.apiary, self.day):
            found += self._of_hive(book.hive(stop.hive))
        return sorted(found, key=lambda take: not take.fine)

    def chosen(self) -> list[Take]:
        """Return what was chosen and can still be taken."""
        keys = self.values.get("takes", [])
        return [take for take in self.takes() if take.key in keys]

    def turn(self, take: Take) -> None:
        """Choose a super, or leave it."""
        keys = [key for key in self.values.get("takes", []) if key != take.key]
        if take.key not in self.values.get("takes", []):
            keys.append(take.key)
        self.take("takes", keys or None)

    def has(self, take: Take) -> bool:
        """Return whether a super was chosen."""
        return take.key in self.values.get("takes", [])

    def _of_hive(self, state: HiveState) -> list[Take]:
        supers = [each for each in state.supers if self._waits(state, each)]
        found = [self._take(state, each) for each in supers]
        return found or [self._without_super(state)]

    def _waits(self, state: HiveState, each: SuperState) -> bool:
        """Whether a super is on the hive, or came off so lately that its honey may be in it."""
        if each.hive is not None:
            return each.hive == state.hive
        if each.since is None and state.supers_off_on is None:
            return False
        off = each.since if each.mark else state.supers_off_on
        if off is None or not 0 <= self.day.toordinal() - off <= STORED_DAYS:
            return False
        return not any(drawn.mark == each.mark and drawn.day >= off for drawn in state.drawn)

    def _take(self, state: HiveState, each: SuperState) -> Take:
        sign, told, reasons = self._against(state)
        for exposure in honey(state, self.day).exposed:
            if exposure.mark != each.mark:
                continue
            reasons += why(exposure.reasons)
            if exposure.certain:
                sign, told = "closed", say("exposed: never for people")
            elif sign == "done":
                sign, told = "unknown", say("exposed: not known")
        words = super_words(state.number, each)
        if each.mark:
            words = say("Hive {number}, super {mark}", number=state.number, mark=each.mark)
        if each.hive is None:
            words = say("{what}, in the store", what=words)
        on = each.hive is not None
        return Take(state.hive, each.mark, words, sign, told, tuple(reasons), on)

    def _against(self, state: HiveState) -> tuple[Sign, Phrase, list[Phrase]]:
        """Return how honey of a hive stands on the day, in words, and the reasons against it."""
        answer = honey(state, self.day)
        if answer.state == "open":
            return "done", say("nothing on record against it"), []
        reasons = why(answer.reasons)
        if answer.state == "not known":
            return "unknown", say("honey: not known, treat it as closed"), reasons
        if answer.honey_from is None:
            return "closed", say("honey closed: its end is not known"), reasons
        last = answer.honey_from - timedelta(days=1)
        return "closed", say("honey closed to {day}", day=last), reasons

    def _without_super(self, state: HiveState) -> Take:
        """Return the choice for a hive on which no super is on record: what it is, is not known."""
        sign, told, reasons = self._against(state)
        if sign == "done":
            sign, told = "unknown", say("no super on record")
        reasons = [
            say("No super of this hive is on record: where this honey was, is not known."),
            say("Comb of the brood box is never for people."),
            *reasons,
        ]
        words = say("Hive {number}", number=state.number)
        return Take(state.hive, "", words, sign, told, tuple(reasons), False)

    # -- into which lot

    @property
    def title(self) -> Phrase:
        """What is asked."""
        n = len(self.chosen())
        return count("{n} super into a lot", "{n} supers into a lot", n)

    @property
    def questions(self) -> Sequence[Question]:
        """The lot's mark, how much, where it went, and whether the supers are off."""
        unit = self.values.get("unit") or self._unit
        asked: list[Question] = [
            Written("lot", say("The lot's mark, as on the jars"), 40, self._marks(), needed=True),
            Measured("amount", say("How much"), unit, 1e5),
            Choice("unit", say("Weighed in"), _UNITS),
            Written("jars", say("Where it went"), 200),
        ]
        if any(take.on for take in self.chosen()):
            words = say("These supers are off the hives with it")
            asked.insert(1, Choice("off", words, _YES_NO))
        return asked

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what goes in that is not fine: the lot is to be held for it."""
        return [
            Told(
                take.sign,
                say("{what}: {why}. The lot is to be held", what=take.words, why=take.told),
            )
            for take in self.chosen()
            if not take.fine
        ]

    @property
    def wanted(self) -> Container[str]:
        """The questions whose answers the record book wants."""
        return wanted(self._notebook, "harvest")

    @property
    def _unit(self) -> str:
        return "lb" if (self._notebook.country or "")[:2] == "US" else "kg"

    def _marks(self) -> tuple[str, ...]:
        """Return marks to tap: lots that may go on, then the next of this year."""
        drawn = [each for state in self._notebook.book.states() for each in state.drawn]
        today = self.day.toordinal()
        going_on = [each.lot for each in drawn if 0 <= today - each.day <= _GOES_ON]
        used = {each.lot for each in drawn}
        n = 1
        while f"{self.day.year}-{n}" in used:
            n += 1
        return (*dict.fromkeys(going_on), f"{self.day.year}-{n}")

    def save(self) -> Phrase:
        """Write the harvest down, the supers off with it where that was said."""
        notebook, chosen = self._notebook, self.chosen()
        moment = moment_on(notebook, self.values.get("day"), self.apiary)
        body: dict[str, Any] = {"lot": self.values["lot"]}
        body["takes"] = [
            {"hive": take.hive, **({"mark": take.mark} if take.mark else {})} for take in chosen
        ]
        if "amount" in self.values:
            body["amount"] = self.values["amount"]
            body["unit"] = self.values.get("unit") or self._unit
        if "jars" in self.values:
            body["jars"] = self.values["jars"]
        keeper = notebook.keeper or ""
        drafts = []
        if self.values.get("off") == "yes":
            drafts = [
                Draft(
                    "super_off",
                    moment,
                    keeper,
                    {"mark": take.mark} if take.mark else {},
                    apiary=self.apiary,
                    hive=take.hive,
                    colony=notebook.book.hive(take.hive).colony or None,
                )
                for take in chosen
                if take.on
            ]
        notebook.write([*drafts, Draft("harvest", moment, keeper, body, apiary=self.apiary)])
        self.forget()
        return say("Lot {lot} written down", lot=body["lot"])


class HarvestRight(BookForm):
    """A harvest put right: lot, amount, where it went, and what did not go in; a `Form`."""

    kind = "harvest"

    def __init__(self, notebook: Notebook, entry: Entry) -> None:
        super().__init__(notebook, "harvest", entry=entry)
        self._takes: list[dict[str, str]] = list(entry.holds.body["takes"])
        self.values.setdefault("taken", [_key(each) for each in self._takes])

    @property
    def title(self) -> Phrase:
        """What is asked."""
        return say("Honey drawn: put right")

    @property
    def questions(self) -> Sequence[Question]:
        """What was asked of it, and what went in."""
        book = self._notebook.book
        taken = tuple(
            (_key(each), f"{book.hive(each['hive']).number} {each.get('mark', '')}".strip())
            for each in self._takes
        )
        return (
            Written("lot", say("The lot's mark, as on the jars"), 40, needed=True),
            Several("taken", say("Went in"), taken, needed=True),
            Measured("amount", say("How much"), self.values.get("unit", ""), 1e5),
            Choice("unit", say("Weighed in"), _UNITS),
            Written("jars", say("Where it went"), 200),
            self.day_asked(say("Taken off the hives on")),
        )

    def body(self) -> dict[str, Any]:
        """Return the body of the record as answered."""
        body = super().body()
        taken = body.pop("taken", [])
        return {**body, "takes": [each for each in self._takes if _key(each) in taken]}


def _key(take: dict[str, str]) -> str:
    return f"{take['hive']} {take.get('mark', '')}"
