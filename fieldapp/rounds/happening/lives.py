"""What happens to one hive alone: bees come, die, get another queen; a course is broken off."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.progress import view
from fieldapp.husbandry.state import Course
from fieldapp.journal.record import Draft
from fieldapp.rounds.desk_form import Written
from fieldapp.rounds.happening.choosing import Question
from fieldapp.rounds.happening.happening import Happening
from fieldapp.rounds.hive_told import OPEN
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.look_questions import CAUSE, ORIGIN, QUEEN_DID, WHY_STOPPED
from fieldapp.rounds.told import Told
from fieldapp.words import say

#: Former suppliers that are offered to tap.
_OFFERED = 6


class NewColony(Happening):
    """Bees come to live in a hive."""

    kind = "colony"
    name = say("new colony")

    @property
    def asked(self) -> Sequence[Question]:
        """Where from, and from whom where somebody gave or sold it."""
        asked: list[Question] = [ORIGIN]
        if self.values.get("origin") in ("bought", "given", "nucleus"):
            asked.append(Written("supplier", say("From whom"), 200, self._former))
        return asked

    @property
    def _former(self) -> tuple[str, ...]:
        """Return the suppliers of earlier colonies, the latest first."""
        book = self._notebook.book
        found = [
            (entry.holds.happened, str(entry.holds.body["supplier"]))
            for state in book.states()
            for entry in book.history(state.hive)
            if entry.root.kind == "colony" and "supplier" in entry.holds.body and not entry.void
        ]
        latest = [name for _, name in sorted(found, reverse=True)]
        return tuple(dict.fromkeys(latest))[:_OFFERED]

    @property
    def remarks(self) -> Sequence[Told]:
        """Warn where a colony lives here already."""
        if not self._lives:
            return ()
        words = say(
            "By the records a colony lives in hive {number}. The new one would take its place, "
            "and its courses end. If it died, say that first; if it only got another queen, "
            "enter the queen.",
            number=self._state.number,
        )
        return (Told("late", words),)

    def drafts(self) -> list[Draft]:
        """Return the colony, under an id of its own."""
        names = {question.name for question in self.asked}
        body = {name: value for name, value in self.values.items() if name in names}
        draft = self.draft("colony", self.hive, body)
        return [draft._replace(colony=self.id_of("colony"))]


class NewQueen(Happening):
    """Something was done with the queen."""

    kind = "queen"
    name = say("queen")

    @property
    def asked(self) -> Sequence[Question]:
        """What was done."""
        return (Choice("did", say("What was done"), QUEEN_DID, needed=True),)

    def drafts(self) -> list[Draft]:
        """Return what was done with her."""
        return [self.draft("queen", self.hive, {"did": self.values["did"]})]


class Died(Happening):
    """The colony is dead or gone."""

    kind = "death"
    name = say("dead")

    @property
    def possible(self) -> bool:
        """Whether a colony lives here by the records."""
        return self._lives

    @property
    def asked(self) -> Sequence[Question]:
        """What was found."""
        return (CAUSE,)

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what to do first; say why it cannot be."""
        if not self.possible:
            number = self._state.number
            nobody = say("By the records no colony lives in hive {number}.", number=number)
            return (Told("late", nobody),)
        words = say(
            "Close the entrance first, so that no bees rob it out. Brood that ropes, smells or "
            "lies sunken: leave everything, tell your veterinary office."
        )
        return (Told("late", words),)

    def drafts(self) -> list[Draft]:
        """Return the death."""
        cause = {"cause": self.values["cause"]} if "cause" in self.values else {}
        return [self.draft("death", self.hive, cause)]


class Stopped(Happening):
    """A course is broken off: nothing more of it will be given."""

    kind = "course_stop"
    name = say("course broken off")

    @property
    def possible(self) -> bool:
        """Whether a course is open here."""
        return bool(self._open)

    @property
    def _open(self) -> list[Course]:
        """Return the courses that still ask for something, the latest first."""
        views = [view(course, self._state, self.day) for course in reversed(self._state.courses)]
        return [each.course for each in views if each.state in OPEN and not each.course.ended]

    @property
    def asked(self) -> Sequence[Question]:
        """Which course, where several are open, and why."""
        courses = self._open
        names = tuple((each.treatment, self._named(each)) for each in courses)
        which = [Choice("treatment", say("Which course"), names, needed=True)]
        return (*(which if len(courses) > 1 else []), WHY_STOPPED)

    @property
    def _chosen(self) -> Course | None:
        """Return the course that was chosen, or the only one."""
        courses = self._open
        said = self.values.get("treatment", courses[0].treatment if len(courses) == 1 else "")
        return next((each for each in courses if each.treatment == said), None)

    def _named(self, course: Course) -> str:
        terms = self._state.terms.get(course.terms)
        return terms.name if terms is not None else course.treatment

    @property
    def remarks(self) -> Sequence[Told]:
        """Say which course it is, and that pieces stay due; say why it cannot be."""
        courses = self._open
        if not courses:
            words = say("No course is open in hive {number}.", number=self._state.number)
            return (Told("late", words),)
        chosen = self._chosen
        if chosen is None:
            return ()
        told = [Told("quiet", say("{treatment}", treatment=self._named(chosen)))]
        if any(each.open and each.treatment == chosen.treatment for each in self._state.exposures):
            words = say("Strips or pads are in. They stay due until they are out: take them out.")
            told.append(Told("late", words))
        return told

    def drafts(self) -> list[Draft]:
        """Return what stops the course."""
        chosen = self._chosen or self._open[0]
        body = {"treatment": chosen.treatment}
        if "reason" in self.values:
            body["reason"] = self.values["reason"]
        return [self.draft("course_stop", self.hive, body)]
