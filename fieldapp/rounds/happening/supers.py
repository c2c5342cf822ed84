"""What happens to supers: carried to another hive, a comb of the brood box moved up into one."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.journal.record import Draft
from fieldapp.rounds.cautions import supers_of
from fieldapp.rounds.exposed_supers import super_words
from fieldapp.rounds.happening.choosing import OneHive, Question, carried, others, supers_asked
from fieldapp.rounds.happening.happening import Happening
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.told import Told
from fieldapp.words import say

_LOT = "the supers of the hive"


class Carried(Happening):
    """Supers are carried from this hive to another at once."""

    kind = "super_carried"
    name = say("supers carried to another hive")
    asked_first = ("marks", "unmarked")

    @property
    def possible(self) -> bool:
        """Whether a super is on this hive by the records."""
        return bool(supers_of(self._state))

    @property
    def asked(self) -> Sequence[Question]:
        """Which supers, and onto which hive."""
        if not self.possible:
            return ()
        onto = others(self._notebook, self.hive, self.day)
        return (
            *supers_asked(
                self._state, say("Which supers"), say("How many of those without a mark")
            ),
            OneHive("to_hive", say("Onto which hive?"), onto, needed=True),
        )

    @property
    def remarks(self) -> Sequence[Told]:
        """Say why it cannot be, or what it carries along."""
        if not self.possible:
            words = say(
                "By the records no super is on hive {number}. Write down that it went on "
                "first, under a look inside.",
                number=self._state.number,
            )
            return (Told("late", words),)
        if any(each.exposed for each in supers_of(self._state)):
            words = say("An exposed super stays exposed wherever it is carried.")
            return (Told("closed", words),)
        return ()

    @property
    def ready(self) -> bool:
        """Whether a super was said, and where it went."""
        return super().ready and bool(self.drafts())

    def drafts(self) -> list[Draft]:
        """Return one record for each super with a mark, and one for those without."""
        bodies = carried(self._state, self.values, str(self.values.get("to_hive", "")))
        return [self.draft("super_carried", self.hive, each) for each in bodies]


class CombUp(Happening):
    """A comb of the brood box was moved up into a super."""

    kind = "comb_up"
    name = say("comb moved up")

    @property
    def asked(self) -> Sequence[Question]:
        """Into which super, where there are several."""
        supers = supers_of(self._state)
        if len(supers) < 2:
            return ()
        options = tuple((e.mark or _LOT, super_words(self._state.number, e)) for e in supers)
        return (Choice("mark", say("Into which super"), options, needed=True),)

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what it does to the super."""
        words = say("Brood comb is never for people: the super that it goes into is exposed by it.")
        told = [Told("closed", words)]
        if not supers_of(self._state):
            none = say("By the records no super is on hive {number}.", number=self._state.number)
            told.append(Told("unknown", none))
        return told

    def drafts(self) -> list[Draft]:
        """Return the comb, with the mark of its super where it has one."""
        supers = supers_of(self._state)
        mark = self.values.get("mark", supers[0].mark if supers else "")
        body = {"mark": mark} if mark and mark != _LOT else {}
        return [self.draft("comb_up", self.hive, body)]
