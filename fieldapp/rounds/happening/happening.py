"""Something that happened to a hive, while it is being entered: what is asked, and what follows."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from fieldapp.husbandry.ledger import Blocked
from fieldapp.husbandry.ledger.standstill import AGAINST
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.desk_form import moment_on
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.happening.choosing import NEW, DayOver, Question, fits
from fieldapp.rounds.happening.following import Followed, follows
from fieldapp.rounds.hive_correction import Correction
from fieldapp.rounds.look_form import Kept
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import entry_of
from fieldapp.rounds.setup import hive_draft
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

#: Kinds whose envelope has to name the colony.
_OF_COLONY = frozenset({"split", "unite", "swarm", "transfer"})


class Standing(RoundsError):
    """Something that a standstill blocks was to be written."""


class Happening(Kept):
    """A form of what happened; nothing is written before `save`. Subclasses say what is asked.

    `kind` is the record that it becomes. `written` are the records of the last `save`. `despite`:
    the keeper said of this very entry that it was done in spite of a standstill; it is not kept.
    """

    kind = ""
    #: Whether it moves hives: a standstill blocks that.
    moves = False
    #: What is asked first too, though a record can do without an answer.
    asked_first: tuple[str, ...] = ()
    #: What it is called where it is chosen.
    name: Phrase = say("What happened")

    def __init__(self, notebook: Notebook, hive: str, about: str = "") -> None:
        super().__init__(notebook, f"{about or self.kind} of {hive}")
        self._notebook = notebook
        self.hive = hive
        self._state = notebook.book.hive(hive)
        self._ids: dict[str, str] = {}
        self.written: list[Record] = []
        self.despite = False

    # -- what is asked

    @property
    def title(self) -> Phrase:
        """What happened, and to which hive."""
        return say("Hive {number}: {what}", number=self._state.number, what=self.name)

    @property
    def asked(self) -> Sequence[Question]:
        """What is asked of it, but for the day."""
        return ()

    @property
    def questions(self) -> Sequence[Question]:
        """What is asked, the day at the end."""
        if not self.possible:
            return ()
        return (*self.asked, DayOver("day", say("Day"), self.today))

    @property
    def open_first(self) -> Question | None:
        """The first question without an answer that is asked before all others are shown."""
        if not self.possible:
            return None
        open_ones = (each for each in self.asked if each.name not in self.values)
        return next((q for q in open_ones if q.needed or q.name in self.asked_first), None)

    def settle(self) -> None:
        """Drop answers of before that fit no more: what is here may have changed meanwhile."""
        while stale := [
            each.name
            for each in self.questions
            if each.name in self.values and not fits(each, self.values[each.name])
        ]:
            for name in stale:
                self.take(name, None)

    @property
    def remarks(self) -> Sequence[Told]:
        """What to do first, and why something cannot be entered."""
        return ()

    @property
    def ready(self) -> bool:
        """Whether all is said that the record cannot do without."""
        return self.possible and all(
            each.name in self.values for each in self.questions if each.needed
        )

    @property
    def possible(self) -> bool:
        """Whether it can have happened here by the records."""
        return True

    @property
    def today(self) -> date:
        """The day of the entry."""
        return self._notebook.today(self._state.apiary)

    @property
    def day(self) -> date:
        """The day on which it happened."""
        said = self.values.get("day")
        return date.fromisoformat(said) if said else self.today

    @property
    def _lives(self) -> bool:
        return self._state.lives(self.day.toordinal())

    # -- what follows

    def drafts(self) -> list[Draft]:
        """Return the records as answered, each with its id."""
        raise NotImplementedError

    def follows(self) -> tuple[Followed, ...]:
        """Return what would be otherwise once it is saved, hive by hive, by the rules."""
        return follows(self._notebook, self.drafts())

    @property
    def blocked(self) -> Blocked | None:
        """The standstill that blocks this on its day, if one does."""
        if not self.moves and self.kind not in AGAINST:
            return None
        register = self._notebook.shelf.ledger().register
        found = (register.blocked(apiary, self.day) for apiary in self.apiaries)
        return next((each for each in found if each is not None), None)

    @property
    def apiaries(self) -> list[str]:
        """The apiaries that it concerns: where the hive stood on the day."""
        stood = self._stood(self.hive)
        return [stood] if stood else []

    def _stood(self, hive: str) -> str | None:
        """Return where a hive stood on the day, where it stands now if nobody knows."""
        state = self._notebook.book.hive(hive)
        stood = self._notebook.shelf.ledger().register.stood(state.hive, self.day)
        return stood or state.apiary

    # -- saving

    def save(self) -> Phrase:
        """Write it down. Raises `Standing` where a standstill blocks it and nobody said more."""
        blocked = self.blocked
        if blocked is not None and not self.despite:
            raise Standing(blocked.reason.phrase)
        self.written = self._notebook.write(self.drafts())
        self.forget()
        return say("{what}. Written down.", what=self.title)

    def undo(self) -> Phrase:
        """Take back all that was written, as a slip."""
        voids = [
            Correction(self._notebook, entry_of(self._notebook, each.id)).voided("slip")
            for each in self.written
        ]
        self._notebook.write([draft for drafts in voids for draft in drafts])
        self.written = []
        self._ids = {}
        return say("{what}. Taken back.", what=self.title)

    # -- drafts

    def id_of(self, what: str) -> str:
        """Return the id under which something new goes into the records; the same each time."""
        return self._ids.setdefault(what, self._notebook.new_id())

    def bees_of(self, hive: str) -> str:
        """Return the id of the colony in a hive; bees that nobody recorded get one of their own."""
        return self._colony(hive) or self.id_of(f"bees of {hive}")

    def _colony(self, hive: str) -> str:
        return self._notebook.book.hive(hive).colony

    def draft(self, kind: str, hive: str, body: dict[str, Any], apiary: str = "") -> Draft:
        """Return a draft of the day said, about a hive where it stands, and the colony in it."""
        where = apiary or self._stood(hive)
        return Draft(
            kind,
            moment_on(self._notebook, self.values.get("day"), where),
            self._notebook.keeper or "",
            body,
            apiary=where,
            hive=hive,
            colony=self._colony(hive) or (self.bees_of(hive) if kind in _OF_COLONY else None),
            id=self.id_of(f"{kind} {hive} {sorted(body.items())}"),
        )

    def target(self, name: str) -> tuple[str, list[Draft]]:
        """Return the hive that was chosen, and what makes it where it is a new one."""
        hive = str(self.values[name])
        if hive != NEW:
            return hive, []
        hive = self.id_of("hive")
        made = hive_draft(self._notebook, self._state.apiary or "", hive)
        moment = moment_on(self._notebook, self.values.get("day"), self._state.apiary)
        return hive, [made._replace(happened=moment, id=self.id_of("number of the hive"))]
