"""The large set for benchmarks: any number of hives and years, by the same chores, as a stream.

About 40 records a hive and year, positions included. Only one year is held in memory at a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from random import Random

from fieldapp.demo import chores
from fieldapp.demo.remedies import SPONGE, TRICKLE, Remedy, first_use, named
from fieldapp.demo.scene import Apiary, Entry, Hive, Person, Scene, Walk
from fieldapp.demo.season import HELPERS_PHONE, KEEPERS_PHONE, SEED, TODAY, ZONE, in_order
from fieldapp.husbandry.library import Library

HIVES_AN_APIARY = 20

LOOKS = (
    (4, 2),
    (4, 25),
    (5, 9),
    (5, 16),
    (5, 23),
    (6, 1),
    (6, 10),
    (6, 20),
    (7, 5),
    (8, 20),
    (9, 5),
)
"""Month and day of the looks inside, about a week apart in the time of swarming."""


def herd(library: Library, hives: int, years: int, seed: int = SEED) -> Iterator[Entry]:
    """Yield the entries of `hives` hives over `years` years that end on the demo's today.

    Oldest first, on two phones. The same arguments give the same entries.
    """
    random = Random(f"{seed}/herd")  # noqa: S311  # invented data, not secrets
    scene = Scene(ZONE, random)
    begin = date(TODAY.year - years, TODAY.month, TODAY.day) + timedelta(days=1)
    start = datetime.combine(begin, datetime.min.time()).replace(hour=8)
    people = (
        Person(scene.new_id(start), KEEPERS_PHONE, "keeper"),
        Person(scene.new_id(start), HELPERS_PHONE, "helper"),
    )
    for who in people:
        scene.write(who, start, "keeper", {"name": who.role.title(), "role": who.role})
    trickle = first_use(scene, people[0], start, named(library, TRICKLE), 0)
    sponge = first_use(scene, people[0], start, named(library, SPONGE), 0)
    apiaries = [
        _found(scene, people[0], start, number, min(HIVES_AN_APIARY, hives - first))
        for number, first in enumerate(range(0, hives, HIVES_AN_APIARY), start=1)
    ]
    for year in range(begin.year, begin.year + years):
        for number, apiary in enumerate(apiaries):
            _year(scene, people[number % 2], apiary, year, trickle, sponge)
        yield from in_order(scene.entries)
        scene.entries.clear()


def _found(scene: Scene, who: Person, start: datetime, number: int, size: int) -> Apiary:
    """Enter an apiary and its hives."""
    random = scene.random
    name = f"Apiary {number}"
    apiary = Apiary(
        scene.new_id(start), name, 54 + random.uniform(0, 0.8), -2.6 + random.uniform(0, 0.8)
    )
    walk = Walk(scene, who, start.date(), "08:05", apiary)
    where = {"lat": round(apiary.lat, 5), "lon": round(apiary.lon, 5)}
    walk.write("apiary", {"name": name, "country": "GB", "zone": ZONE} | where)
    for stand in range(1, size + 1):
        hive = Hive(
            id=scene.new_id(start),
            number=str(stand),
            colony=scene.new_id(start),
            seams=random.choice([5.0, 6.25, 7.5, 8.0]),
            load=random.uniform(0.4, 1.8),
        )
        apiary.hives.append(hive)
        walk.write("hive", {"number": hive.number, "stand": stand, "boxes": 1}, hive=hive)
        walk.write("colony", {"origin": "was there"}, hive=hive)
    return apiary


def _year(
    scene: Scene, who: Person, apiary: Apiary, year: int, trickle: Remedy, sponge: Remedy
) -> None:
    """One year of one apiary, from the evening of the demo's day on."""
    off = timedelta(days=scene.random.randint(0, 4))

    def walk(month: int, day: int, start: str = "10:00") -> Walk:
        return Walk(
            scene,
            who,
            date(year if (month, day) > (9, 19) else year + 1, month, day) + off,
            start,
            apiary,
        )

    hives = apiary.living()
    for month, day in ((9, 25), (10, 1)):
        chores.feed(walk(month, day), hives, "syrup", 2, "L")
    chores.board(walk(12, 20), hives, "in")
    chores.treat(
        walk(12, 21),
        trickle,
        hives,
        chores.by_seams(5, 50),
        kills=0.93,
        brood="none",
        temperature=5,
    )
    chores.drop(walk(1, 18), hives, 28, "after", factor=0.4)
    chores.board(walk(1, 18, "14:00"), hives, "out")
    chores.feed(walk(1, 30), hives, "fondant", 1, "kg")
    _losses_made_good(walk(3, 20), apiary)
    hives = apiary.living()
    for month, day in LOOKS:
        chores.look(walk(month, day), hives, "yes")
    chores.grow(hives, 3)
    for month, day in ((4, 18), (5, 30), (6, 27)):
        chores.wash(walk(month, day, "14:00"), hives[:8], "season")
    for month, day in ((5, 4), (6, 2)):
        chores.supers_on(walk(month, day, "15:00"), hives, _mark)
    chores.grow(hives, 2)
    chores.wash(walk(7, 15), hives[:8], "before")
    chores.harvest(walk(7, 20), hives, f"{year + 1}-{apiary.name}", 11)
    chores.supers_off(walk(7, 28), hives)
    given = chores.treat(
        walk(8, 1, "08:00"),
        sponge,
        hives,
        chores.alike({"pieces": 1}),
        kills=0.5,
        brood="yes",
        temperature=21,
    )
    chores.day_after(walk(8, 2, "17:00"), hives, given)
    chores.board(walk(8, 7), hives, "in")
    chores.drop(walk(8, 14), hives, 7, "season", factor=3)
    chores.board(walk(8, 14, "12:00"), hives, "out")
    chores.take_out(walk(8, 24, "08:00"), sponge, hives, 1)
    chores.treat(
        walk(8, 24, "12:30"),
        sponge,
        hives,
        chores.alike({"pieces": 1}),
        kills=0.6,
        brood="yes",
        temperature=19,
    )
    chores.take_out(walk(9, 14, "09:00"), sponge, hives, 1)


def _losses_made_good(walk: Walk, apiary: Apiary) -> None:
    """One colony in twelve dies; its hive gets a part of a neighbour's."""
    random = walk.scene.random
    for hive in apiary.living():
        if random.random() < 1 / 12:
            walk.tap("death", {"cause": "found dead"}, hive)
            hive.colony = None
    for empty in [hive for hive in apiary.hives if hive.colony is None]:
        if living := apiary.living():
            source = random.choice(living)
            colony = walk.scene.new_id(walk.now)
            walk.tap("split", {"to_hive": empty.id, "to_colony": colony}, source)
            empty.colony, empty.load, empty.seams = colony, source.load, 4.0


def _mark(hive: Hive) -> str:
    return f"{hive.id[-6:]}-{len(hive.supers) + 1}"
