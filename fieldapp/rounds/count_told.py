"""What counts of a hive say: load, threshold, and the picture of a year."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property
from typing import Any, Literal, NamedTuple

from fieldapp.book import Entry
from fieldapp.husbandry.amounts import number_of
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.counting import Drop, Load, fall, loads
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.thresholds import (
    PER_100,
    PER_WASH,
    Answer,
    Threshold,
    answer,
    read_thresholds,
)
from fieldapp.husbandry.vocabulary import MITES
from fieldapp.journal import happened
from fieldapp.rounds.count_ahead import told_ahead, told_whole, value_of
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Sign, Told
from fieldapp.words import Phrase, count, say

#: The sign and the words of what thresholds say.
SAYS: dict[str, tuple[Sign, Phrase]] = {
    "over": ("late", say("over the threshold")),
    "below": ("done", say("below the threshold")),
    "cannot tell": ("unknown", say("cannot tell if over the threshold")),
}
#: The look for brood before a forecast reaches back so far.
_BROOD_DAYS = 28
#: The half of the year in which a colony without brood is dormant, north of the equator.
_WINTER = frozenset({10, 11, 12, 1, 2, 3})
#: That phase, as thresholds name it.
_DORMANT = "dormant, no brood"

Standing = Literal["ground", "reported", "history"]


class Point(NamedTuple):
    """One count in the picture of a year: the day, what was found, and its interval."""

    day: date
    value: float
    interval: Interval


class Year(NamedTuple):
    """The counts of a hive in a year that can stand in one picture, and levels to act at.

    `levels` are per month (1 to 12) the lowest level and how good its source is: ``ground``,
    ``reported``, or ``history`` where no current one is known; months without any are left
    out. `unit` is the text for both; `others` are levels that are not in this unit.
    """

    year: int
    unit: Phrase
    points: tuple[Point, ...]
    levels: Mapping[int, tuple[float, Standing]]
    others: tuple[Told, ...] = ()


class CountsTold:
    """Speaks about the counts of one hive; `day` is the day asked."""

    def __init__(self, notebook: Notebook, hive: str) -> None:
        self._notebook = notebook
        self.hive = hive
        self._state = notebook.book.hive(hive)
        self.day = notebook.today(self._state.apiary)
        self._biology = notebook.published.biology

    @property
    def number(self) -> str:
        """The hive's number."""
        return self._state.number

    @property
    def apiary(self) -> str:
        """The apiary where the hive stands, empty where it is not known."""
        return self._state.apiary or ""

    @property
    def country(self) -> str:
        """The country whose thresholds apply, empty where it is not known."""
        return self._state.country or self._notebook.country_of(self._state.apiary or "") or ""

    @cached_property
    def _thresholds(self) -> tuple[Threshold, ...]:
        return read_thresholds(self._notebook.published.thresholds)

    def levels(self, way: str) -> list[Threshold]:
        """Return the current levels per 100 bees, the lowest alone where several apply."""
        fitting = [
            each
            for each in self._thresholds
            if each.fits(self.country, way, self.day, "", "")
            and each.figure.unit == PER_100
            and not each.history_in(self.day.year)
        ]
        return sorted(fitting, key=lambda each: each.figure.low)[:1]

    def in_a_wash(self, way: str) -> list[Told]:
        """Return the current levels that are a number of mites in a wash, however many bees."""
        return [
            Told("quiet", say("Act over {n} mites in a wash", n=each.figure.low), _source(each))
            for each in self._thresholds
            if each.fits(self.country, way, self.day, "", "")
            and each.figure.unit == PER_WASH
            and not each.history_in(self.day.year)
        ]

    # -- one count

    def readings(self, body: Mapping[str, Any]) -> tuple[Load, ...] | tuple[Drop, ...]:
        """Return the readings of a count's body; empty where its bees or days are not known."""
        if body["way"] == "drop":
            found = fall(body, self._biology)
            return () if found is None else (found,)
        return loads(body, self._biology)

    def judged(self, body: Mapping[str, Any], day: date) -> Answer:
        """Return what the thresholds of the country say of a count made on `day`."""
        readings = self.readings(body)
        return answer(readings, self._thresholds, self.country, day, phase=self._phase(day))

    def told(self, body: Mapping[str, Any], day: date) -> list[Told]:
        """Return a count in words: each reading, what it means, and by when to count again."""
        readings = self.readings(body)
        found = self.judged(body, day)
        sign, words = SAYS[found.says]
        chances = [each.chance for each in found.judgements if each.chance is not None]
        told = [Told("quiet", _reading(each), tuple(why(each.reasons))) for each in readings]
        told.append(Told(sign, words, tuple(why(found.reasons))))
        if chances and found.says == "cannot tell":
            told.append(Told("quiet", _likely(max(chances))))
        told += told_whole(readings, day, self._brood(day), self._biology)
        history = [each for each in found.judgements if each.history]
        for each in history[:1]:
            told.append(
                Told("quiet", say("An old threshold, shown as history"), tuple(why(each.reasons)))
            )
        levels = self.levels(body["way"])
        told += told_ahead(readings, day, self._brood(self.day), levels, self._biology)
        return _each_once(told)

    def _phase(self, day: date) -> str:
        """Return the phase of the colony by its brood; empty where that does not tell it."""
        south = self._state.south
        winter = south is not None and (day.month in _WINTER) != south
        return _DORMANT if winter and self._brood(day) == "none" else ""

    def _brood(self, day: date) -> str:
        until, since = day.toordinal(), (day - timedelta(days=_BROOD_DAYS)).toordinal()
        seen = [
            look.brood
            for look in self._state.looks
            if since <= look.day <= until and look.brood != "not seen"
        ]
        return seen[-1] if seen else "not known"

    # -- all counts

    @cached_property
    def entries(self) -> list[Entry]:
        """The counts of the hive that hold, newest first."""
        history = self._notebook.book.history(self.hive)
        return [each for each in history if each.root.kind == "count" and not each.void]

    def last(self) -> Told | None:
        """Return the last count beside its threshold in one line; None where there is none."""
        if not self.entries:
            return None
        record = self.entries[0].holds
        day = happened.civil(record.happened)
        readings = self.readings(record.body)
        sign, says = SAYS[self.judged(record.body, day).says]
        if readings:
            worst = max(readings, key=value_of)
            words = say("{reading}, {says} ({day})", reading=_short(worst), says=says, day=day)
        else:
            mites = count("{n} mite", "{n} mites", record.body["mites"])
            words = say("{mites}, bees not known ({day})", mites=mites, day=day)
        return Told(sign, words)

    def last_told(self) -> list[Told]:
        """Return the last count in words, with every reading; empty where there is none."""
        if not self.entries:
            return []
        held = self.entries[0].holds
        return self.told(held.body, happened.civil(held.happened))

    def year(self) -> Year | None:
        """Return this year's counts made as the last one was, for the picture."""
        if not self.entries:
            return None
        newest = self.entries[0].holds
        way = newest.body["way"]
        drops = way == "drop"
        year = happened.civil(newest.happened).year
        points = []
        for entry in reversed(self.entries):
            record = entry.holds
            day = happened.civil(record.happened)
            readings = self.readings(record.body)
            if day.year == year and (record.body["way"] == "drop") == drops and readings:
                worst = max(readings, key=value_of)
                points.append(Point(day, value_of(worst), worst.interval))
        unit = say("mites a day") if drops else say("mites per 100 bees")
        return Year(
            year,
            unit,
            tuple(points),
            self._by_month(newest.body["way"], year),
            tuple(self.in_a_wash(newest.body["way"])),
        )

    def _by_month(self, way: str, year: int) -> dict[int, tuple[float, Standing]]:
        unit = "mites per day" if way == "drop" else PER_100
        found: dict[int, tuple[float, Standing]] = {}
        for month in range(1, 13):
            fitting = [
                each
                for each in self._thresholds
                if each.fits(self.country, way, date(year, month, 1), "", "")
                and each.figure.unit == unit
            ]
            current = [each for each in fitting if not each.history_in(year)]
            if current:
                lowest = min(current, key=lambda each: each.figure.low)
                grounds = lowest.figure.grounds
                found[month] = (lowest.figure.low, "ground" if grounds else "reported")
            elif fitting:
                found[month] = (min(each.figure.low for each in fitting), "history")
        return found


def _likely(chance: float) -> Phrase:
    """Return a chance in whole per cent; what rounds to none or to all is not said to be so."""
    share = round(100 * chance)
    if share < 1:
        return say("under 1 % likely to be over")
    if share > 99:
        return say("over 99 % likely to be over")
    return say("about {share} % likely to be over", share=share)


def _each_once(lines: Sequence[Told]) -> list[Told]:
    """Return the lines with each reason said where it comes first only."""
    said: set[Phrase] = set()
    found = []
    for told in lines:
        found.append(told._replace(why=tuple(each for each in told.why if each not in said)))
        said.update(told.why)
    return found


def _source(threshold: Threshold) -> tuple[Phrase, ...]:
    said = say("level of {country}", country=threshold.country)
    return tuple(why([threshold.figure.reason(said)]))


def _short(reading: Load | Drop) -> Phrase:
    if isinstance(reading, Load):
        return say("{value} per 100 bees", value=round(reading.per_100, 1))
    return say("{mites} a day", mites=number_of(round(reading.per_day, 1), MITES))


def _reading(reading: Load | Drop) -> Phrase:
    low, high = round(reading.interval.low, 1), round(reading.interval.high, 1)
    if isinstance(reading, Load):
        return say(
            "{value} per 100 bees, {low} to {high}, taken as {bees} bees",
            value=round(reading.per_100, 1),
            low=low,
            high=high,
            bees=reading.bees,
        )
    return say(
        "{value} mites a day, {low} to {high}", value=round(reading.per_day, 1), low=low, high=high
    )
