"""Scenes in which colonies part, join, move and die, and questions that keepers answer."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial
from typing import Any

from history_scenes import Farm

from fieldapp.journal.record import Record

_GIVEN_BY: tuple[dict[str, Any], ...] = (
    {"who": "keeper"},
    {"who": "veterinarian", "name": "a veterinarian"},
    {"who": "label in hand", "name": "invented", "document": "line 4"},
    {"who": "label in hand", "document": "line 5"},
    {"who": "authority", "name": "an office", "day": "2024-01-02", "document": "letter 7"},
)
_PERIODS: tuple[dict[str, Any], ...] = (
    *({"form": "days", "days": days} for days in (0, 0, 3, 5, 7, 10, 14, 21, 21, 28)),
    {"form": "next season's supers"},
)


def moves(farm: Farm, span: int) -> None:
    """Put some moves on the calendar, on any of the days."""
    kinds = (_split, _split, _unite, _unite, _swarm, _transfer, _death, _comes)
    for _ in range(farm.chance.choice([0, 1, 2, 3])):
        step = farm.chance.choice(kinds)
        farm.plan(farm.start + timedelta(farm.chance.randint(1, span)), partial(step, farm))


def _split(farm: Farm, day: date) -> None:
    hives = farm.peopled()
    if not hives:
        return
    chance, hive, to_hive, part = (
        farm.chance,
        farm.chance.choice(hives),
        farm.empty(),
        farm.pen.new_id(),
    )
    body: dict[str, Any] = {"to_hive": to_hive, "to_colony": part}
    if chance.random() < 0.5:
        body["pieces_along"] = chance.choice([0, 0, 1, 2])
    if chance.random() < 0.3:
        body["supers_along"] = ["S1"]
    record = farm.pen.write("split", day, hive, colony=farm.living[hive], **body)
    farm.living[to_hive] = part
    if chance.random() < 0.3:
        along = chance.choice([0, 1])
        farm.later(day + timedelta(3), "answer_split", None, split=record.id, pieces_along=along)


def _unite(farm: Farm, day: date) -> None:
    hives = farm.peopled()
    if len(hives) < 2:
        return
    hive, other = farm.chance.sample(hives, 2)
    farm.pen.write(
        "unite",
        day,
        hive,
        colony=farm.living[hive],
        from_hive=other,
        from_colony=farm.living[other],
    )
    farm.living[other] = None


def _swarm(farm: Farm, day: date) -> None:
    hives = farm.peopled()
    if not hives:
        return
    hive, new = farm.chance.choice(hives), farm.pen.new_id()
    body: dict[str, Any] = {"new_colony": new}
    if farm.chance.random() < 0.7:
        body["to_hive"] = farm.empty()
        farm.living[body["to_hive"]] = new
    farm.pen.write("swarm", day, hive, colony=farm.living[hive], **body)


def _transfer(farm: Farm, day: date) -> None:
    hives = farm.peopled()
    if not hives:
        return
    hive, to_hive = farm.chance.choice(hives), farm.empty()
    combs = farm.chance.choice(["with combs", "bees only", "not known"])
    farm.pen.seen[f"transfer {combs}"] += 1
    farm.pen.write("transfer", day, hive, colony=farm.living[hive], to_hive=to_hive, combs=combs)
    farm.living[hive], farm.living[to_hive] = None, farm.living[hive]


def _death(farm: Farm, day: date) -> None:
    hives = farm.peopled()
    if not hives:
        return
    hive = farm.chance.choice(hives)
    farm.pen.write("death", day, hive)
    farm.living[hive] = None


def _comes(farm: Farm, day: date) -> None:
    free = [hive for hive, colony in farm.living.items() if colony is None]
    if free:
        hive = farm.chance.choice(free)
        farm.living[hive] = farm.pen.new_id()
        farm.pen.write("colony", day, hive, colony=farm.living[hive], origin="nucleus")


def queens(farm: Farm, hive: str, start: date) -> None:
    """A queen caged and, mostly, released."""
    farm.later(start, "queen", hive, did="caged")
    if farm.chance.random() < 0.7:
        farm.later(start + timedelta(25), "queen", hive, did="released")


def periods(farm: Farm, last: date) -> None:
    """Periods that somebody gave, for a treatment or for one hive of it."""
    chance = farm.chance
    for treatment in farm.treatments:
        published = treatment.body["published"]
        for _ in range(chance.choice([0, 0, 1, 2] if published else [0, 1, 2, 3, 3])):
            day = farm.start + timedelta(chance.randint(0, max(1, (last - farm.start).days)))
            hive = chance.choice(list(farm.living)) if chance.random() < 0.3 else None
            given_by = chance.choice(_GIVEN_BY)
            farm.pen.seen[f"period by {given_by['who']}"] += 1
            farm.pen.write(
                "period",
                day,
                hive,
                treatment=treatment.identity,
                period=chance.choice(_PERIODS),
                given_by=given_by,
            )


def joins(farm: Farm) -> None:
    """Which course applications join, where the keeper is asked."""
    for later in farm.applications:
        if farm.chance.random() < 0.12:
            same = [
                a
                for a in farm.applications
                if a.hive == later.hive and a.body["treatment"] == later.body["treatment"]
            ]
            body = {"course": farm.chance.choice(same).id} if farm.chance.random() < 0.6 else {}
            farm.pen.write("answer_joins", _day(later), application=later.id, **body)


def doubles(farm: Farm) -> None:
    """The same application written down twice, answered or not."""
    chance, pen = farm.chance, farm.pen
    for first in list(farm.applications):
        if chance.random() > 0.08:
            continue
        ids = [first.id]
        for _ in range(chance.choice([1, 1, 2])):
            ids.append(pen.write("application", _day(first), first.hive, **first.body).id)
        pen.seen["twice"] += 1
        match chance.randrange(5):
            case 0:
                pen.write("answer_twice", _day(first), parts=[ids])
                pen.seen["twice, one"] += 1
            case 1:
                pen.write("answer_twice", _day(first), parts=[ids[:1], ids[1:]])
                pen.seen["twice, parted"] += 1
            case 2:
                pen.write("answer_twice", _day(first), parts=[ids[:-1]])
                pen.seen["twice, answer names too few"] += 1


def _day(record: Record) -> date:
    return date.fromisoformat(record.day)
