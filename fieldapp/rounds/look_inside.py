"""A look inside a hive, and what was done while it was open: queen, supers, feed, board."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldapp.journal.record import Draft
from fieldapp.rounds.cautions import supers_of
from fieldapp.rounds.look_form import Choice, Kept, Number, Question
from fieldapp.rounds.look_questions import BOARD_DID, FEED_UNIT, FEED_WHAT, LOOK, QUEEN_DID
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.photo_annex import with_photos
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

_DONE: tuple[Question, ...] = (
    Choice("did queen", say("Done with the queen"), QUEEN_DID),
    Choice(
        "did supers",
        say("Done with supers"),
        (("on", say("one put on")), ("off", say("all taken off"))),
    ),
    Choice("did board", say("Bottom board"), BOARD_DID),
    Choice("did feed", say("Feed given"), FEED_WHAT),
)
_FEED_AMOUNT = {
    "L": Number("feed amount", say("Feed, litres"), 20, 2),
    "kg": Number("feed amount", say("Feed, kg"), 20, 2),
    "combs": Number("feed amount", say("Feed, combs"), 20),
}


class LookInside(Kept):
    """A look being entered; a `Form`. All its records are written in one transaction."""

    def __init__(self, notebook: Notebook, hive: str) -> None:
        super().__init__(notebook, f"look of {hive}")
        self._notebook = notebook
        self._hive = hive
        self._state = notebook.book.hive(hive)

    @property
    def title(self) -> Phrase:
        """Which hive is open."""
        return say("Hive {number}: a look inside", number=self._state.number)

    @property
    def questions(self) -> Sequence[Question]:
        """What was seen, then what was done; how much feed only where some was given."""
        fed = self.values.get("did feed")
        return (*LOOK, *_DONE, *((_FEED_AMOUNT[FEED_UNIT[fed]],) if fed else ()))

    @property
    def remarks(self) -> Sequence[Told]:
        """Warn of a super that would be exposed."""
        if self.values.get("did supers") != "on":
            return ()
        honey = self._notebook.book.honey(self._hive, self._notebook.today(self._state.apiary))
        if honey.supers_from is None:
            return (Told("late", say("When supers may go on is not known: leave them off")),)
        if honey.supers_from > self._notebook.today(self._state.apiary):
            words = say("Supers may go on from {day}: leave them off", day=honey.supers_from)
            return (Told("late", words),)
        return ()

    @property
    def ready(self) -> bool:
        """Whether anything was answered."""
        return bool(self.values or self.photos)

    def save(self) -> Phrase:
        """Write what was seen and done."""
        names = [question.name for question in LOOK]
        seen = {name: self.values[name] for name in names if name in self.values}
        photos = self.photos
        looks = [self._draft("look", seen)] if seen or photos else []
        looks = with_photos(self._notebook, looks, photos)
        self._notebook.write([*looks, *self._done()])
        self.forget()
        return say("Hive {number}: look saved", number=self._state.number)

    def _done(self) -> list[Draft]:
        values, drafts = self.values, []
        if "did queen" in values:
            drafts.append(self._draft("queen", {"did": values["did queen"]}))
        if values.get("did supers") == "on":
            drafts.append(self._draft("super_on", {"count": 1}))
        elif values.get("did supers") == "off":
            drafts += [
                self._draft("super_off", {"mark": each.mark} if each.mark else {})
                for each in supers_of(self._state)
            ] or [self._draft("super_off", {})]
        if "did board" in values:
            drafts.append(self._draft("board", {"did": values["did board"]}))
        if "did feed" in values:
            body = {"what": values["did feed"]}
            if "feed amount" in values:
                unit = FEED_UNIT[values["did feed"]]
                body |= {"amount": values["feed amount"], "unit": unit}
            drafts.append(self._draft("feed", body))
        return drafts

    def _draft(self, kind: str, body: dict[str, Any]) -> Draft:
        return draft_at(self._notebook, self._hive, kind, body)


def draft_at(notebook: Notebook, hive: str, kind: str, body: dict[str, Any]) -> Draft:
    """Return a draft of now about a hive where it stands, and the colony in it."""
    state = notebook.book.hive(hive)
    return Draft(
        kind,
        notebook.moment(state.apiary),
        notebook.keeper or "",
        body,
        apiary=state.apiary,
        hive=hive,
        colony=state.colony or None,
    )
