"""The look about 24 h after an application: entrance and board first, by ranges."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.state import Course, Dose
from fieldapp.rounds.look_form import Kept, Question
from fieldapp.rounds.look_inside import draft_at
from fieldapp.rounds.look_questions import DAY_AFTER
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.photo_annex import with_photos
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

#: Answers at which the keeper is asked to compare with what is usual.
_MANY = frozenset({"101-500", "over 500"})
_FIRST = Told("due", say("Entrance and board first. Do not open the hive in the cold."))


class DayAfter(Kept):
    """The day after being entered; a `Form`. It names the last application of the hive."""

    def __init__(self, notebook: Notebook, hive: str) -> None:
        super().__init__(notebook, f"day after of {hive}")
        self._notebook = notebook
        self._hive = hive
        self._state = notebook.book.hive(hive)

    @property
    def title(self) -> Phrase:
        """Which hive, and that it is the day after."""
        return say("Hive {number}: the day after", number=self._state.number)

    @property
    def questions(self) -> Sequence[Question]:
        """Dead bees by range, and how the living behave."""
        return DAY_AFTER

    @property
    def remarks(self) -> Sequence[Told]:
        """What to do first, and what to do where many are dead."""
        if any(self.values.get(where) in _MANY for where in ("board", "entrance")):
            words = say(
                "If that is more than usual: take a photo, stop the course, "
                "report it to the address on the label."
            )
            return (Told("late", words), _FIRST)
        return (_FIRST,)

    @property
    def ready(self) -> bool:
        """Whether anything was answered."""
        return bool(self.values or self.photos)

    def save(self) -> Phrase:
        """Write what was seen."""
        body = dict(self.values)
        dose = _last_dose(self._state.courses)
        if dose is not None:
            body["application"] = dose.id
        seen = draft_at(self._notebook, self._hive, "day_after", body)
        self._notebook.write(with_photos(self._notebook, [seen], self.photos))
        self.forget()
        return say("Hive {number}: the day after saved", number=self._state.number)


def _last_dose(courses: Sequence[Course]) -> Dose | None:
    doses = [dose for course in courses for dose in course.doses]
    return max(doses, key=lambda dose: dose.day, default=None)
