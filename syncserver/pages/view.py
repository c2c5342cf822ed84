"""What the pages show: the book's answers, spoken, each with its sign. No rule lives here."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from fieldapp.book.book import Book
from fieldapp.husbandry import spoken
from fieldapp.husbandry.answers import Closed, Exposed, Honey, Item, Line, Reason
from fieldapp.words import Phrase, count, say
from fieldapp.words.speech import Speech

_SIGNS = {"waiting": "ring", "due": "square", "late": "triangle", "ask": "diamond"}


class LineView(NamedTuple):
    """One line of an agenda, spoken."""

    sign: str
    what: str
    where: str
    when: str
    why: tuple[str, ...]
    hives: str


class HiveView(NamedTuple):
    """One hive and its honey, spoken."""

    id: str
    number: str
    apiary: str
    sign: str
    state: str
    words: tuple[str, ...]
    why: tuple[str, ...]


class ApiaryView(NamedTuple):
    """One apiary with its hives in the order of the walk."""

    name: str
    hives: tuple[HiveView, ...]


class Cause(NamedTuple):
    """Closed days or an exposed super, with what makes them so."""

    sign: str
    words: str
    why: tuple[str, ...]


class Places:
    """The names of apiaries and hives on a day."""

    def __init__(self, book: Book, day: date) -> None:
        self.apiaries = {apiary.id: apiary.name for apiary in book.apiaries(day)}
        self.walks = {apiary: book.walk(apiary, day) for apiary in self.apiaries}
        self.numbers = {stop.hive: stop.number for walk in self.walks.values() for stop in walk}
        self.homes = {stop.hive: apiary for apiary, walk in self.walks.items() for stop in walk}


class View:
    """Speaks a book's answers of one day."""

    def __init__(self, book: Book, day: date, speech: Speech) -> None:
        self._book = book
        self._day = day
        self._say = speech
        self._places = Places(book, day)

    def knows(self, hive: str) -> bool:
        """Tell whether this operation has such a hive."""
        return hive in self._places.numbers

    def agenda(self) -> list[LineView]:
        """Return the merged agenda, late first."""
        lines = spoken.in_sight(self._book.agenda(self._day), self._day)
        return [self._line(line, line.hives) for line in lines]

    def apiaries(self) -> list[ApiaryView]:
        """Return every apiary with the honey of its hives."""
        return [
            ApiaryView(
                self._places.apiaries[apiary],
                tuple(self.hive(stop.hive) for stop in walk if not stop.ended),
            )
            for apiary, walk in self._places.walks.items()
        ]

    def hive(self, hive: str) -> HiveView:
        """Return one hive and its honey."""
        honey = self._book.honey(hive, self._day)
        sign, state = self._state(honey)
        return HiveView(
            hive,
            self._places.numbers.get(hive, "?"),
            self._places.apiaries.get(self._places.homes.get(hive, ""), ""),
            sign,
            self._say(state),
            tuple(map(self._say, self._dates(honey))),
            self._why(honey.reasons),
        )

    def items(self, hive: str) -> list[LineView]:
        """Return what is to do at one hive."""
        return [self._line(item, (hive,)) for item in self._book.items(hive, self._day)]

    def closed(self, hive: str) -> list[Cause]:
        """Return a hive's closed days with their causes, the newest first."""
        intervals = self._book.honey(hive, self._day).closed
        return [
            Cause("ring" if self._is_past(one) else "bar", self._say(_interval(one)), why)
            for one in sorted(intervals, key=lambda one: one.first, reverse=True)
            for why in [self._why(one.reasons)]
        ]

    def exposed(self, hive: str) -> list[Cause]:
        """Return a hive's exposed supers with their causes."""
        return [
            Cause("bar", self._say(_exposed(one)), self._why(one.reasons))
            for one in self._book.honey(hive, self._day).exposed
        ]

    def _is_past(self, closed: Closed) -> bool:
        return closed.last is not None and closed.last < self._day

    def _line(self, line: Line | Item, hives: tuple[str, ...]) -> LineView:
        place = self._places.apiaries.get(line.apiary or "", "")
        numbers = [self._places.numbers.get(hive, "?") for hive in hives if hive]
        return LineView(
            _SIGNS[line.timing],
            self._say(line.what),
            self._say(spoken.where(place, len(numbers))),
            self._say(spoken.when(line, self._day)),
            self._why(line.reasons),
            self._say(_hives(numbers)) if numbers else "",
        )

    def _state(self, honey: Honey) -> tuple[str, Phrase]:
        if honey.state == "open":
            return "disc", say("open")
        if honey.state == "closed":
            return "bar", say("closed")
        return "diamond", say("not known: take no honey")

    def _dates(self, honey: Honey) -> Iterable[Phrase]:
        if honey.state != "open":
            if honey.honey_from:
                yield say("Honey may be taken from {day}.", day=honey.honey_from)
            else:
                yield say("Honey: no end is known.")
        if honey.supers_from is None:
            yield say("Supers: not known when they may go on.")
        elif honey.supers_from > self._day:
            yield say("Supers may go on from {day}.", day=honey.supers_from)
        if honey.exposed:
            yield count(
                "{n} exposed super: not for people.",
                "{n} exposed supers: not for people.",
                len(honey.exposed),
            )

    def _why(self, reasons: Iterable[Reason]) -> tuple[str, ...]:
        return tuple(dict.fromkeys(map(self._say, spoken.why(reasons))))


def _hives(numbers: list[str]) -> Phrase:
    return count("Hive {numbers}", "Hives {numbers}", len(numbers), numbers=", ".join(numbers))


def _interval(closed: Closed) -> Phrase:
    if closed.last is None:
        return say("From {first}, no end known", first=closed.first)
    if closed.last == closed.first:
        return say("{day}", day=closed.first)
    return say("{first} to {last}", first=closed.first, last=closed.last)


def _exposed(exposed: Exposed) -> Phrase:
    name = say("Super {mark}", mark=exposed.mark) if exposed.mark else say("The unmarked supers")
    if exposed.certain:
        return say("{super}: exposed, not for people", super=name)
    return say("{super}: exposed or not is not known, so not for people", super=name)
