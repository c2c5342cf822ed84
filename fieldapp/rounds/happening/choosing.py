"""What can be chosen: another hive by its number, supers by their marks, a day that is over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any, NamedTuple

from fieldapp.husbandry.state import HiveState, SuperState
from fieldapp.rounds.cautions import supers_of
from fieldapp.rounds.desk_form import Written
from fieldapp.rounds.exposed_supers import super_words
from fieldapp.rounds.look_form import Choice, Number
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.setup import next_number
from fieldapp.words import Phrase, listed, say

#: Stands for a hive that nobody has numbered yet.
NEW = "new"
#: Days back that can be tapped at once; earlier ones are asked by year, month and day.
DAYS_BACK = 14


class HiveKey(NamedTuple):
    """A hive to choose: its number, and what is known of it in a word or two."""

    hive: str
    number: Phrase | str
    told: Phrase | None = None


class OneHive(NamedTuple):
    """A question for another hive, which is chosen by its number."""

    name: str
    words: Phrase
    options: tuple[HiveKey, ...]
    needed: bool = False

    def said(self, value: Any) -> Phrase | str:
        """Return the hive's number."""
        return next((each.number for each in self.options if each.hive == value), str(value))


class SomeHives(NamedTuple):
    """A question for any number of hives, chosen by their numbers, or all at once."""

    name: str
    words: Phrase
    options: tuple[HiveKey, ...]
    needed: bool = False

    def said(self, value: Any) -> Phrase | str:
        """Return the numbers."""
        chosen = [each.number for each in self.options if each.hive in value]
        if len(chosen) == len(self.options) > 1:
            return say("all {n}", n=len(chosen))
        return listed(chosen) if chosen else say("none")


class Marks(NamedTuple):
    """A question for any number of supers with marks of their own."""

    name: str
    words: Phrase
    options: tuple[str, ...]
    needed: bool = False

    def said(self, value: Any) -> Phrase | str:
        """Return the marks."""
        return listed([each for each in self.options if each in value] or [say("none")])


class DayOver(NamedTuple):
    """A question for the day on which it happened; where nobody says one, it is `today`."""

    name: str
    words: Phrase
    today: date
    needed: bool = False

    @property
    def offered(self) -> tuple[date, ...]:
        """The days to tap at once, the latest first."""
        return tuple(self.today - timedelta(days=n) for n in range(DAYS_BACK + 1))

    @property
    def unless(self) -> Phrase:
        """What holds where nobody says otherwise."""
        return say("today, {day}", day=self.today)

    def said(self, value: Any) -> Phrase | str:
        """Return an answer as it is shown."""
        return say("{day}", day=date.fromisoformat(value))


Question = Choice | Number | Written | OneHive | SomeHives | Marks | DayOver


def fits(question: Question, value: Any) -> bool:
    """Whether a value can be an answer to a question as it is asked now."""
    if isinstance(question, Choice):
        return value in [each for each, _ in question.options]
    if isinstance(question, OneHive):
        return value in [each.hive for each in question.options]
    if isinstance(question, SomeHives):
        return isinstance(value, list) and set(value) <= {each.hive for each in question.options}
    if isinstance(question, Marks):
        return isinstance(value, list) and set(value) <= set(question.options)
    if isinstance(question, Number):
        return isinstance(value, int | float) and question.least <= value <= question.most
    return isinstance(value, str)


def others(notebook: Notebook, hive: str, day: date) -> tuple[HiveKey, ...]:
    """Return the other hives where a hive stands, in walk order, and who lives in each."""
    state = notebook.book.hive(hive)
    return tuple(
        _key(notebook.book.hive(stop.hive), day)
        for stop in notebook.book.walk(state.apiary or "", day)
        if stop.hive != state.hive
    )


def living(keys: Sequence[HiveKey]) -> tuple[HiveKey, ...]:
    """Return those in which a colony lives."""
    return tuple(each for each in keys if each.told is None)


def to_move_into(notebook: Notebook, hive: str, day: date) -> tuple[HiveKey, ...]:
    """Return where bees can be put: empty hives, one with a new number, then all others."""
    keys = others(notebook, hive, day)
    apiary = notebook.book.hive(hive).apiary or ""
    number = next_number(notebook, apiary)
    new = HiveKey(NEW, str(number), say("a new hive"))
    lived_in = tuple(each._replace(told=say("lived in")) for each in living(keys))
    return (*(each for each in keys if each.told is not None), new, *lived_in)


def _key(state: HiveState, day: date) -> HiveKey:
    if state.lives(day.toordinal()):
        return HiveKey(state.hive, state.number)
    dead = state.dead is not None and state.dead <= day.toordinal()
    return HiveKey(state.hive, state.number, say("dead") if dead else say("empty"))


# -- supers of a hive, by mark and by number


def marked(state: HiveState) -> tuple[str, ...]:
    """Return the marks of the supers that are on a hive."""
    return tuple(each.mark for each in supers_of(state) if each.mark)


def unmarked(state: HiveState) -> SuperState | None:
    """Return the supers without marks that are on a hive, as the one lot that they are."""
    return next((each for each in supers_of(state) if not each.mark), None)


def supers_asked(
    state: HiveState, by_mark: Phrase, without: Phrase
) -> list[Marks | Number | Choice]:
    """Return the questions for which supers of a hive went, none where none are on it.

    `by_mark` asks for those with marks, `without` for the number of those that have none.
    """
    found: list[Marks | Number | Choice] = []
    if marked(state):
        found.append(Marks("marks", by_mark, marked(state)))
    lot = unmarked(state)
    if lot is not None and lot.number is not None and lot.number > 1:
        found.append(Number("unmarked", without, min(lot.number, 9)))
    elif lot is not None:
        options = (("all", super_words(state.number, lot)), ("none", say("none")))
        found.append(Choice("unmarked", without, options))
    return found


def carried(state: HiveState, values: Mapping[str, Any], to_hive: str) -> list[dict[str, Any]]:
    """Return the bodies of the records that supers were carried to a hive, as was answered."""
    bodies: list[dict[str, Any]] = [
        {"mark": mark, "to_hive": to_hive}
        for mark in marked(state)
        if mark in values.get("marks", ())
    ]
    lot, number = unmarked(state), values.get("unmarked")
    if lot is not None and number not in (None, 0, "none"):
        bodies.append({"to_hive": to_hive})
        if isinstance(number, int) and number != lot.number:
            bodies[-1]["count"] = number
    return bodies
