"""A count being made: the way, the tally, the bees or the days, then what it says.

Every tap is kept on the phone until the count is saved, so that nobody counts twice.
"""

from __future__ import annotations

from datetime import date
from functools import reduce
from typing import Any, NamedTuple

from fieldapp.husbandry.counting import measure_readings
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.vocabulary import word
from fieldapp.journal.record import Draft
from fieldapp.rounds.count_before import before
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.look_form import Kept
from fieldapp.rounds.look_inside import draft_at
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, say


class Way(NamedTuple):
    """A way of counting: what the record calls it, and with what the bees are washed."""

    way: str
    fluid: str
    words: Phrase


WAYS = (
    Way("wash", "alcohol", say("Wash in alcohol")),
    Way("wash", "soapy water", say("Wash in soapy water")),
    Way("roll", "icing sugar", say("Roll in icing sugar")),
    Way("roll", "carbon dioxide", say("Roll in carbon dioxide")),
    Way("drop", "", say("Mites on the board")),
)
#: Seconds to shake: a wash at least a minute (row B3 of docs/sources.md), sugar within three
#: minutes, gently, about three times (row B4).
SHAKE_S = {"wash": 60, "roll": 180}
#: The parts of a board that are commonly counted.
PARTS: tuple[tuple[float, Phrase], ...] = (
    (1.0, say("all of the board")),
    (0.5, say("half of it")),
    (round(1 / 3, 4), say("a third of it")),
)


class Counting(Kept):
    """One count of one hive. `board_out`: the board comes out with it."""

    def __init__(self, notebook: Notebook, hive: str, *, board_out: bool = False) -> None:
        super().__init__(notebook, f"count of {hive}")
        self._notebook = notebook
        self.hive = hive
        self._state = notebook.book.hive(hive)
        self._board_out = board_out
        self.told = CountsTold(notebook, hive)
        self.shaken = False
        self._shake_ends: float | None = None
        if board_out and not self.values:
            self.take_way(WAYS[-1])

    @property
    def number(self) -> str:
        """The hive's number."""
        return self._state.number

    @property
    def way(self) -> Way | None:
        """The way of counting, None before it was chosen."""
        for each in WAYS:
            if each.way == self.values.get("way") and each.fluid == self.values.get("fluid", ""):
                return each
        return None

    def take_way(self, way: Way) -> None:
        """Take the way; what was counted another way is dropped."""
        if way != self.way:
            for name in list(self.values):
                self.values.pop(name)
        self.take("way", way.way)
        self.take("fluid", way.fluid or None)

    # -- the shake

    @property
    def shake_s(self) -> int:
        """Seconds to shake."""
        return SHAKE_S.get(self.values.get("way", "wash"), 60)

    def shake(self) -> None:
        """Start the timer for shaking."""
        self.shaken = False
        self._shake_ends = self._notebook.clock.monotonic() + self.shake_s

    def end_shake(self) -> None:
        """Take note that the time is over."""
        self.shaken, self._shake_ends = True, None

    @property
    def left(self) -> int | None:
        """Seconds of shaking left; None while nobody shakes, 0 when it is over."""
        if self._shake_ends is None:
            return None
        return max(0, round(self._shake_ends - self._notebook.clock.monotonic()))

    # -- the tally

    @property
    def mites(self) -> int:
        """Mites counted so far."""
        return int(self.values.get("mites", 0))

    @property
    def mites_words(self) -> Phrase:
        """The mites in words."""
        return count("{n} mite", "{n} mites", self.mites)

    def add(self, mites: int) -> None:
        """Count so many more, or take one back."""
        self.take("mites", max(0, self.mites + mites))

    # -- the bees, the board

    def measures(self) -> list[tuple[str, Phrase | str, Phrase | str]]:
        """Return the measures for bees: name, words, and how many bees each is taken to hold."""
        held: dict[str, list[Phrase | str]] = {}
        for name, figure in measure_readings(self._notebook.published.biology):
            held.setdefault(name, []).append(f"{figure.low:g}")
        return [(name, word(name), reduce(_or, numbers)) for name, numbers in held.items()]

    def measured(self, name: str) -> None:
        """Take the bees by a measure: all that it is published to hold is shown."""
        self._bees({"bees_by": "measured", "measure": name})

    def counted(self, bees: int) -> None:
        """Take the bees as counted."""
        self._bees({"bees_by": "counted", "bees": max(1, bees)})

    def weighed(self, grams: float) -> None:
        """Take the bees as weighed."""
        self._bees({"bees_by": "weighed", "grams": grams})

    def not_known(self) -> None:
        """Leave the bees not known: the load will be too."""
        self._bees({})

    def _bees(self, fields: dict[str, Any]) -> None:
        for name in ("bees_by", "bees", "measure", "grams"):
            self.take(name, fields.get(name))

    @property
    def board_days(self) -> int | None:
        """Days since the board went in, by the records; None where nobody said."""
        boards = [each for each in self._state.events if each.what.startswith("board")]
        if not boards or boards[-1].what != "board in":
            return None
        return (self.told.day - as_date(boards[-1].day)).days or None

    # -- what it says, and saving

    @property
    def body(self) -> dict[str, Any]:
        """The body of the record."""
        return {"mites": self.mites, **self.values, **self._purpose()}

    def before(self) -> list[Told]:
        """Return whether the count can answer the question."""
        return before(self._notebook, self.told, self.values.get("way", "wash"))

    def meaning(self) -> list[Told]:
        """Return what the count says, before it is saved."""
        return self.told.told(self.body, self.told.day)

    def save(self) -> Phrase:
        """Write the count, and that the board is out where it is."""
        drafts: list[Draft] = [draft_at(self._notebook, self.hive, "count", self.body)]
        if self.values.get("way") == "drop" and self._board_out:
            drafts.append(draft_at(self._notebook, self.hive, "board", {"did": "out"}))
        self._notebook.write(drafts)
        self.forget()
        return say("Hive {number}: {mites} saved", number=self.number, mites=self.mites_words)

    def _purpose(self) -> dict[str, str]:
        """Return what the count is for: after a course where the agenda asks for that."""
        for item in self._notebook.book.items(self.hive, self._day):
            if item.task == "count_after" and item.timing in ("due", "late"):
                courses = [record for reason in item.reasons for record in reason.records]
                return {"purpose": "after", "application": courses[0]}
        return {"purpose": "season"}

    @property
    def _day(self) -> date:
        return self.told.day


def _or(one: Phrase | str, other: Phrase | str) -> Phrase | str:
    return say("{one} or {other}", one=one, other=other)
