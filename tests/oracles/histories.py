"""Random but plausible histories of a few hives, made from a seed; no rule is used.

Every record passes its kind's check. `History.seen` counts the situations that went in.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from random import Random
from typing import Any

from history_chores import chores
from history_moves import doubles, joins, moves, periods, queens
from history_pen import ZONES, Pen
from history_scenes import Farm, course, strips, supers
from history_treatments import changed, some_treatments

from fieldapp.journal.record import Record

_STARTS = (
    date(2023, 6, 1),
    date(2023, 12, 20),
    date(2024, 2, 20),
    date(2024, 3, 10),
    date(2024, 3, 31),
    date(2024, 8, 1),
    date(2024, 10, 6),
    date(2024, 10, 27),
    date(2024, 12, 27),
)
_MAY_BE_WRONG = {
    "application": 6,
    "pieces": 4,
    "look": 2,
    "super_on": 2,
    "super_off": 2,
    "super_carried": 1,
    "course_stop": 1,
    "period": 1,
    "harvest": 1,
    "split": 1,
    "unite": 1,
    "death": 1,
    "same_as": 1,
    "plan": 1,
    "answer_twice": 1,
    "terms": 1,
    "colony": 1,
    "swarm": 1,
    "transfer": 1,
    "super_emptied": 1,
    "answer_joins": 1,
    "answer_split": 1,
    "feed": 1,
    "skip": 1,
}


@dataclass(frozen=True)
class History:
    """Records in the order of arrival, a day to ask, and the situations in them."""

    records: tuple[Record, ...]
    day: date
    seen: Counter[str]


def history(chance: Random) -> History:
    """Return a history over two to five hives with two to four treatments."""
    pen = Pen(chance)
    farm = _farm(pen)
    for hive in list(farm.living):
        start = farm.start + timedelta(chance.choice([0, 0, chance.randint(0, 60)]))
        for treatment in chance.sample(farm.treatments, chance.randint(1, len(farm.treatments))):
            (strips if treatment.in_pieces else course)(farm, hive, treatment, start)
            if chance.random() < 0.3:
                later = start + timedelta(chance.choice([30, 100, 300]))
                (strips if treatment.in_pieces else course)(farm, hive, treatment, later)
        if chance.random() < 0.6:
            supers(farm, hive, start)
        if chance.random() < 0.15:
            queens(farm, hive, start)
    moves(farm, chance.choice([40, 40, 80, 200]))
    last = farm.run()
    periods(farm, last)
    joins(farm)
    doubles(farm)
    _journeys(farm)
    chores(farm)
    _correct_some(pen)
    records = list(pen.records)
    chance.shuffle(records)
    span = (last - farm.start).days + 60
    return History(tuple(records), farm.start + timedelta(chance.randint(0, span)), pen.seen)


def _farm(pen: Pen) -> Farm:
    """Set up apiary, hives, colonies and terms; some hives known by two ids."""
    chance = pen.chance
    start = chance.choice(_STARTS)
    treatments = some_treatments(chance)
    apiary, hives = pen.new_id(), [pen.new_id() for _ in range(chance.randint(2, 5))]
    before = start - timedelta(60)
    lat: dict[str, Any] = {} if chance.random() < 0.1 else {"lat": ZONES[pen.zone]}
    pen.seen["south of the equator"] += lat.get("lat", 0) < 0
    pen.write("apiary", before, apiary=apiary, name="Invented", zone=pen.zone, **lat)
    terms = {t.identity: [pen.write("terms", before, **t.body).id] for t in treatments}
    for treatment in treatments:
        if chance.random() < 0.2:
            other = pen.write("terms", before, **changed(chance, treatment))
            terms[treatment.identity].append(other.id)
            pen.seen["two terms"] += 1
    farm = Farm(pen, treatments, terms, start)
    for number, hive in enumerate(hives):
        pen.write("hive", before, hive, apiary=apiary, number=str(number + 1))
        farm.living[hive] = hive
        if chance.random() < 0.6:
            farm.living[hive] = pen.new_id()
            known = before + timedelta(chance.choice([0, 0, 0, 70]))
            pen.write("colony", known, hive, colony=farm.living[hive], origin="was there")
        if chance.random() < 0.1:
            pen.write("hive", start + timedelta(90), hive, apiary=apiary, number="99")
        if chance.random() < 0.15:
            aliases = [hive, *(pen.new_id() for _ in range(chance.randint(1, 2)))]
            for one, two in pairwise(aliases):
                pen.write("same_as", start, what="hive", ids=[one, two])
            pen.aliases[hive] = aliases
    return farm


def _journeys(farm: Farm) -> None:
    """Take some hives elsewhere: over the equator too, or to where no side is known."""
    pen, chance = farm.pen, farm.chance
    if chance.random() < 0.8:
        return
    away = pen.new_id()
    side = chance.choice([{"lat": lat} for lat in ZONES.values()] + [{}, {}])
    pen.write("apiary", farm.start - timedelta(60), apiary=away, name="Away", zone=pen.zone, **side)
    for hive in chance.sample(sorted(farm.living), chance.randint(1, len(farm.living))):
        day = farm.start + timedelta(chance.randint(-30, 300))
        pen.write("hive", day, hive, apiary=away, number="1")
        pen.seen["an apiary elsewhere"] += 1


def _correct_some(pen: Pen) -> None:
    """Correct some records: other days, other numbers, void; some twice, side by side."""
    chance = pen.chance
    wrong = [r for r in pen.records if r.kind in _MAY_BE_WRONG]
    weights = [_MAY_BE_WRONG[r.kind] for r in wrong]
    if not wrong:
        return
    roots = {r.id: r for r in chance.choices(wrong, weights, k=chance.choice([0, 1, 2, 4]))}
    for number, root in enumerate(roots.values()):
        first = _correct(pen, root, root, ())
        if number < 3 and chance.random() < 0.4:
            second = _correct(pen, root, first, ())
            pen.seen["side by side"] += 1
            if chance.random() < 0.3:
                _correct(pen, root, second, (first.id, second.id))
                pen.seen["side by side, answered"] += 1
        elif chance.random() < 0.3:
            second = _correct(pen, root, first, (first.id,))
            pen.seen["corrected again"] += 1
            if chance.random() < 0.2:
                pen.records.remove(first)
                pen.seen["a head before it arrives"] += 1


def _correct(pen: Pen, root: Record, above: Record, heads: tuple[str, ...]) -> Record:
    """Write a correction whose stamp is above that of what its author saw."""
    chance = pen.chance
    at, body, void = root.happened, dict(root.body), False
    match chance.randrange(4):
        case 0:
            void = True
            pen.seen["void"] += 1
        case 1 if "count" in body:
            body["count"] = chance.randint(1, 3)
            pen.seen["corrected number"] += 1
        case 2 if "pieces" in body:
            body["pieces"] = chance.randint(1, 3)
            pen.seen["corrected number"] += 1
        case _:
            days = chance.choice([-30, -7, -1, 1, 2, 7, 30])
            if root.kind in ("split", "unite", "death", "swarm", "transfer", "colony"):
                days = chance.choice([-1, 1])
            at = pen.happened(date.fromisoformat(root.day) + timedelta(days))
            pen.seen["corrected day"] += 1
    stamp = f"{max(int(above.stamp, 16), int(root.stamp, 16)) + chance.randint(1, 1000):016x}"
    pen.seen["correction"] += 1
    return pen.add(
        root.kind,
        "",
        root.hive,
        at=at,
        stamp=stamp,
        apiary=root.apiary,
        colony=root.colony,
        corrects=root.id,
        heads=heads,
        void=void,
        **body,
    )
