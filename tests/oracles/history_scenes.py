"""Scenes of random histories: courses, pieces, supers, and colonies that come, part and go.

A scene puts steps on the calendar; each step is taken on its day, as far as the hives then
allow it. No scene knows the rules: it only knows what keepers do, right or wrong.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import partial
from random import Random
from typing import Any

from history_pen import Pen
from history_treatments import Treatment

from fieldapp.journal.record import Record

Step = Callable[[date], object]
_MARKS = ("S1", "S2", "S3", "S4")


@dataclass
class Farm:
    """Hives as the history has them so far: who lives where, and what was written."""

    pen: Pen
    treatments: list[Treatment]
    terms: dict[str, list[str]]
    start: date
    living: dict[str, str | None] = field(default_factory=dict)
    applications: list[Record] = field(default_factory=list)
    plans: dict[str, str] = field(default_factory=dict)
    lots: int = 0
    _calendar: list[tuple[date, int, Step]] = field(default_factory=list)
    _planned: int = 0

    @property
    def chance(self) -> Random:
        return self.pen.chance

    def plan(self, day: date, step: Step) -> None:
        self._planned += 1
        heapq.heappush(self._calendar, (day, self._planned, step))

    def later(self, day: date, kind: str, hive: str | None, **body: Any) -> None:
        """Plan to write a record."""
        self.plan(day, lambda at: self.pen.write(kind, at, hive, **body))

    def run(self) -> date:
        """Take every step on its day; return the last day."""
        day = self.start
        while self._calendar:
            day, _, step = heapq.heappop(self._calendar)
            step(day)
        return day

    def peopled(self) -> list[str]:
        return [hive for hive, colony in self.living.items() if colony]

    def now(self, colony: str | None, hive: str) -> str:
        """Return where a colony lives now, `hive` if nowhere."""
        return next((h for h, c in self.living.items() if c and c == colony), hive)

    def empty(self) -> str:
        """Return a hive that nobody lives in, a new one if need be."""
        free = [hive for hive, colony in self.living.items() if colony is None]
        if free and self.chance.random() < 0.5:
            return self.chance.choice(free)
        hive = self.pen.new_id()
        self.living[hive] = None
        return hive


def _seen(farm: Farm, what: str, happens: bool) -> bool:
    farm.pen.seen[what] += happens
    return happens


def treat(farm: Farm, hive: str, treatment: Treatment, day: date, **more: Any) -> Record | None:
    """Write an application, unless the hive is empty; most keepers would see that."""
    if farm.living.get(hive) is None:
        return None
    chance = farm.chance
    body: dict[str, Any] = {
        "treatment": treatment.identity,
        "terms": chance.choice(farm.terms[treatment.identity]),
        **more,
    }
    if treatment.in_pieces and not _seen(farm, "pieces not counted", chance.random() < 0.015):
        body["pieces"] = chance.choice([1, 2, 2, 2, 2, 3])
    if chance.random() < 0.3:
        body["supers"] = chance.choice(["off", "on", "not known"])
        farm.pen.seen[f"supers seen {body['supers']}"] += 1
    if _seen(farm, "part dose", chance.random() < 0.12):
        body["part"] = True
    record = farm.pen.write("application", day, hive, **body)
    farm.applications.append(record)
    return record


def course(farm: Farm, hive: str, treatment: Treatment, start: date) -> None:
    """Several applications, early, on time, late or much too late, by label or own plan."""
    chance, gap = farm.chance, treatment.gap
    more: dict[str, Any] = {}
    if _seen(farm, "own plan", not treatment.in_pieces and chance.random() < 0.3):
        gap = {"least": 4, "target": 6, "most": 8} if chance.random() < 0.92 else {"least": 5}
        more["plan"] = farm.pen.write(
            "plan",
            start,
            treatment=treatment.identity,
            number=chance.randint(1, 4),
            gap=gap,
            ground=chance.choice(["label in hand", "common practice"]),
        ).id
    least, most = gap.get("least", 20), gap.get("most", 30)
    day = start
    for _ in range(chance.randint(1, 6)):
        farm.plan(day, lambda at: treat(farm, hive, treatment, at, **more))
        day += timedelta(
            chance.choice([0, 1, least - 1, least, least, most, most + 1, 2 * most, 2 * most + 1])
        )
        if chance.random() < 0.1:
            day += timedelta(chance.choice([40, 150, 364]))
    if _seen(farm, "stopped", chance.random() < 0.2):
        stop = day - timedelta(chance.randint(0, 5))
        farm.later(stop, "course_stop", hive, treatment=treatment.identity)


def strips(farm: Farm, hive: str, treatment: Treatment, start: date) -> None:
    """Pieces in, looks, and pieces out: in part, lost, found, replaced, forgotten."""
    chance = farm.chance
    put: list[Record] = []
    bees: str | None = None

    def goes_in(at: date) -> None:
        nonlocal bees
        record = treat(farm, hive, treatment, at)
        if record is not None:
            put.append(record)
            bees = farm.living[hive]

    def happens(did: str, count: int, **more: Any) -> Step:
        def step(at: date) -> None:
            body: dict[str, Any] = {"did": did, "count": count, "treatment": treatment.identity}
            if put and chance.random() < 0.5:
                body["application"] = put[-1].id
            farm.pen.seen[f"pieces {did}"] += 1
            farm.pen.write("pieces", at, hive, **body, **more)

        return step

    def out_all(at: date) -> None:
        """What the keeper remembers to have put in comes out, under the last application."""
        for record in put:
            count = max(1, record.body.get("pieces", 2))
            body = {"did": "out", "count": count, "treatment": treatment.identity}
            where = farm.now(bees, hive) if chance.random() < 0.8 else hive
            farm.pen.write("pieces", at, where, **body, application=record.id)

    farm.plan(start, goes_in)
    if treatment.gap and chance.random() < 0.7:
        farm.plan(start + timedelta(chance.choice([6, 7, 10, 12, 21])), goes_in)
    for after in chance.sample([-8, -7, -2, 20, 41, 42, 43, 50, 69, 70], chance.randint(0, 4)):
        brood = chance.choice(["none", "hardly any", "yes", "not seen"])
        farm.pen.seen[f"look {brood}"] += 1
        farm.later(start + timedelta(after), "look", hive, brood=brood)
    out = start + timedelta(chance.choice([3, 6, 7, 20, 41, 42, 55, 56, 57, 69, 70, 90]))
    if chance.random() < 0.2:
        farm.plan(start + timedelta(2), happens(chance.choice(["moved", "replaced"]), 1))
    match chance.randrange(24):
        case 0:
            farm.pen.seen["forgotten"] += 1
        case 1:
            farm.pen.seen["out in part"] += 1
            farm.plan(out, happens("out", 1))
            farm.plan(out + timedelta(chance.choice([0, 1, 30])), happens("out", 2))
        case 2:
            seen = chance.choice(["outside the hive", "every box searched", "not found"])
            farm.pen.seen[f"lost, {seen}"] += 1
            farm.plan(out, happens("out", 1))
            farm.plan(out, happens("lost", 1, seen=seen))
        case 3:
            farm.pen.seen["more out than in"] += 1
            farm.plan(out, happens("out", 3))
        case 4 | 5:
            farm.plan(out, happens("out", 2))
        case _:
            farm.plan(out, out_all)
    if chance.random() < 0.1:
        farm.plan(out + timedelta(chance.choice([1, 30, 200])), happens("found", 1))
        if chance.random() < 0.8:
            farm.plan(out + timedelta(201), happens("out", 1))


def supers(farm: Farm, hive: str, start: date) -> None:
    """Supers on, off, carried, emptied, combs moved up, and honey drawn."""
    chance, pen = farm.chance, farm.pen
    if chance.random() < 0.5:
        next_year = date(start.year + 1, chance.choice([3, 8]), 15)
        farm.later(next_year, "super_on", hive, mark=chance.choice(_MARKS))
    for _ in range(chance.randint(1, 5)):
        day = start + timedelta(chance.randint(-20, 400) if chance.random() < 0.9 else 0)
        which: dict[str, Any] = {}
        if chance.random() < 0.6:
            which["mark"] = chance.choice(_MARKS)
        elif chance.random() < 0.6:
            which["count"] = chance.randint(1, 2)
        if not which and _seen(farm, "from another's store", chance.random() < 0.3):
            which["of_hive"] = chance.choice(list(farm.living))
        pen.seen["super marked" if "mark" in which else "super unmarked"] += 1
        farm.later(day, "super_on", hive, **which)
        which.pop("of_hive", None)
        day += timedelta(chance.choice([0, 5, 60]))
        other = chance.choice(list(farm.living))
        mark = {"mark": which["mark"]} if "mark" in which else {}
        match chance.randrange(5):
            case 0:
                farm.later(day, "super_off", hive, **which)
            case 1 if other != hive:
                farm.later(day, "super_carried", hive, to_hive=other, **which)
            case 2:
                farm.later(day, "super_emptied", hive, **mark)
            case 3:
                farm.later(day, "comb_up", hive, **mark)
            case _:
                farm.plan(day, partial(_harvest, farm, hive, mark))


def _harvest(farm: Farm, hive: str, mark: dict[str, str], day: date) -> None:
    farm.lots += 1
    takes = [{"hive": hive, **mark}]
    if farm.chance.random() < 0.3:
        takes.append({"hive": farm.chance.choice(list(farm.living))})
    farm.pen.write("harvest", day, lot=f"L{farm.lots}", takes=takes)
