"""Colonies that part, join and move: split, united, swarmed, moved to other boxes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldapp.husbandry.state import Exposure, HiveState
from fieldapp.journal.record import Draft
from fieldapp.rounds.happening.choosing import (
    HiveKey,
    OneHive,
    Question,
    carried,
    living,
    marked,
    others,
    supers_asked,
    to_move_into,
)
from fieldapp.rounds.happening.happening import Happening
from fieldapp.rounds.look_form import Choice, Number
from fieldapp.rounds.look_questions import COMBS
from fieldapp.rounds.told import Told
from fieldapp.words import say

_GONE = "gone"
#: More pieces than this go along in no record.
MOST_PIECES = 99


def _nobody(state: HiveState) -> tuple[Told, ...]:
    words = say(
        "By the records no colony lives in hive {number}: nothing can leave it.",
        number=state.number,
    )
    return (Told("late", words),)


class _Leaving(Happening):
    """What leaves a hive in which a colony lives, for other boxes."""

    @property
    def possible(self) -> bool:
        """Whether a colony lives here by the records."""
        return self._lives

    @property
    def remarks(self) -> Sequence[Told]:
        """Say why it cannot be, and warn of boxes that are lived in."""
        if not self.possible:
            return _nobody(self._state)
        return self._taken()

    def _taken(self) -> tuple[Told, ...]:
        """Warn where a colony lives in the hive that was chosen: its place would be taken."""
        chosen = self._notebook.book.hive(str(self.values.get("to_hive", "")))
        if not chosen.lives(self.day.toordinal()):
            return ()
        words = say(
            "By the records a colony lives in hive {number}. These bees would take its place, "
            "and its courses end. If both live on together, they were united: enter that.",
            number=chosen.number,
        )
        return (Told("late", words),)

    def _into(self) -> OneHive:
        keys = to_move_into(self._notebook, self.hive, self.day)
        return OneHive("to_hive", say("Into which hive?"), keys, needed=True)


class Split(_Leaving):
    """A part of the colony goes to another hive."""

    kind = "split"
    name = say("split")
    # At the desk nobody remembers it.
    asked_first = ("pieces_along",)

    @property
    def asked(self) -> Sequence[Question]:
        """Where to, how many pieces and which supers went along."""
        return (
            self._into(),
            *self._pieces_asked(),
            *supers_asked(
                self._state,
                say("Supers that went along"),
                say("Supers without a mark that went along"),
            ),
        )

    def _pieces_asked(self) -> list[Number | Choice]:
        """Return the question how many pieces went along, none where none are in.

        Of several treatments, or where nobody said how many are in, only none and all are clear.
        """
        opened = self._open
        if not opened:
            return []
        total = sum(each.remaining for each in opened)
        if any(each.into is None for each in opened) or not 0 < total <= MOST_PIECES:
            only = (("0", say("none of them")),)
            return [Choice("pieces_along", say("Did pieces go along?"), only)]
        if len(opened) > 1:
            options = (("0", say("none of them")), (str(total), say("all of them")))
            return [Choice("pieces_along", say("Which pieces went along?"), options)]
        words = say("How many pieces went along, of {n}?", n=total)
        return [Number("pieces_along", words, total)]

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what it means that nobody says how many pieces went along."""
        told = list(super().remarks)
        if self.possible and self._open and "pieces_along" not in self.values:
            words = say(
                "Strips or pads are in. Say how many went along with the part: until then they "
                "count as in both hives."
            )
            told.append(Told("unknown", words))
        return told

    @property
    def _open(self) -> list[Exposure]:
        return [each for each in self._state.exposures if each.open]

    def drafts(self) -> list[Draft]:
        """Return the new hive, if it is one, the split, and what was carried with it."""
        to_hive, made = self.target("to_hive")
        body: dict[str, Any] = {"to_hive": to_hive, "to_colony": self.id_of("colony")}
        if self._open and "pieces_along" in self.values:
            body["pieces_along"] = int(self.values["pieces_along"])
        marks = [each for each in self.values.get("marks", ()) if each in marked(self._state)]
        if marks:
            body["supers_along"] = marks
        split = self.draft("split", self.hive, body)
        # Those with marks stand in the split itself.
        rest = carried(self._state, {**self.values, "marks": []}, to_hive)
        return [*made, split, *(self.draft("super_carried", self.hive, each) for each in rest)]


class Unite(Happening):
    """Two colonies become one: in this hive, or in the other."""

    kind = "unite"
    name = say("united")

    @property
    def possible(self) -> bool:
        """Whether a colony lives here, and another beside it."""
        return self._lives and bool(self._keys)

    @property
    def _keys(self) -> tuple[HiveKey, ...]:
        return living(others(self._notebook, self.hive, self.day))

    @property
    def asked(self) -> Sequence[Question]:
        """With which hive, where they live on, and which supers of the other came along."""
        asked: list[Question] = [
            OneHive("other", say("With which hive?"), self._keys, needed=True),
        ]
        if "other" not in self.values:
            return asked
        numbers = {"this": self._state.number, "other": self._other.number}
        stays = tuple(
            (name, say("in hive {number}", number=number)) for name, number in numbers.items()
        )
        asked.append(Choice("stays", say("They live on"), stays, needed=True))
        if "stays" in self.values:
            asked += supers_asked(
                self._leaving,
                say("Supers of hive {number} that came along", number=self._leaving.number),
                say(
                    "Supers without a mark of hive {number} that came along",
                    number=self._leaving.number,
                ),
            )
        return asked

    @property
    def remarks(self) -> Sequence[Told]:
        """Say why it cannot be."""
        if not self._lives:
            return _nobody(self._state)
        if not self._keys:
            words = say("No other hive here has a living colony by the records.")
            return (Told("late", words),)
        return ()

    @property
    def _other(self) -> HiveState:
        return self._notebook.book.hive(str(self.values["other"]))

    @property
    def _leaving(self) -> HiveState:
        return self._other if self.values["stays"] == "this" else self._state

    def drafts(self) -> list[Draft]:
        """Return the union, by the hive that goes on, and the supers that were carried to it."""
        leaving = self._leaving
        stays = self.hive if leaving.hive != self.hive else self._other.hive
        body = {"from_hive": leaving.hive, "from_colony": self.bees_of(leaving.hive)}
        return [
            self.draft("unite", stays, body),
            *(
                self.draft("super_carried", leaving.hive, each)
                for each in carried(leaving, self.values, stays)
            ),
        ]


class Swarm(_Leaving):
    """A swarm left: it is gone, or was put into a hive."""

    kind = "swarm"
    name = say("swarmed")

    @property
    def asked(self) -> Sequence[Question]:
        """Where the swarm is now."""
        gone = HiveKey(_GONE, say("flown"), say("not caught"))
        keys = to_move_into(self._notebook, self.hive, self.day)
        return (OneHive("to_hive", say("Where is the swarm?"), (gone, *keys), needed=True),)

    def drafts(self) -> list[Draft]:
        """Return the new hive, if it is one, and the swarm."""
        body: dict[str, Any] = {"new_colony": self.id_of("colony")}
        made: list[Draft] = []
        if self.values["to_hive"] != _GONE:
            body["to_hive"], made = self.target("to_hive")
        return [*made, self.draft("swarm", self.hive, body)]


class Transfer(_Leaving):
    """The whole colony moved to the boxes of another hive."""

    kind = "transfer"
    name = say("moved to other boxes")

    @property
    def asked(self) -> Sequence[Question]:
        """Where to, with or without combs, and which supers went along."""
        return (
            self._into(),
            COMBS,
            *supers_asked(
                self._state,
                say("Supers that went along"),
                say("Supers without a mark that went along"),
            ),
        )

    def drafts(self) -> list[Draft]:
        """Return the new hive, if it is one, the move, and the supers that were carried over."""
        to_hive, made = self.target("to_hive")
        body = {"to_hive": to_hive, "combs": self.values["combs"]}
        rest = carried(self._state, self.values, to_hive)
        return [
            *made,
            self.draft("transfer", self.hive, body),
            *(self.draft("super_carried", self.hive, each) for each in rest),
        ]
