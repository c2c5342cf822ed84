"""Two small operations in other countries, so that labels, units and time zones differ."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from random import Random

from fieldapp.demo import chores
from fieldapp.demo.remedies import (
    GERMAN_FORMIC,
    GERMAN_TRICKLE,
    US_AMITRAZ,
    US_VAPOUR,
    Remedy,
    first_use,
    named,
)
from fieldapp.demo.scene import Apiary, Hive, Person, Scene, Walk
from fieldapp.husbandry.library import Library

PHONE = "keeper"


@dataclass
class Yard:
    """One keeper with one apiary."""

    scene: Scene
    keeper: Person
    apiary: Apiary
    library: Library

    def walk(self, day: str, start: str) -> Walk:
        """Return a walk of the keeper from the civil time `start` on."""
        return Walk(self.scene, self.keeper, date.fromisoformat(day), start, self.apiary)

    def remedy(self, day: str, identity: str, label_days: int | None) -> Remedy:
        """Return a treatment of the country's, used now for the first time."""
        body = named(self.library, identity)
        when = datetime.fromisoformat(f"{day}T07:30")
        return first_use(self.scene, self.keeper, when, body, label_days)


def germany(seed: int, library: Library) -> Scene:
    """Return a year of three hives in Germany: a trickle in winter, formic acid in summer."""
    yard = _settle(seed, library, "DE", "Europe/Berlin", "Hinterfeld", (50.6412, 9.3377), 3)
    hives = yard.apiary.hives
    trickle = yard.remedy("2025-12-20", GERMAN_TRICKLE, 0)
    chores.treat(
        yard.walk("2025-12-20", "11:30"),
        trickle,
        hives,
        chores.by_seams(5.5, 50),
        kills=0.93,
        brood="none",
        temperature=4,
    )
    chores.wash(yard.walk("2026-05-16", "15:00"), hives, "season")
    chores.grow(hives, 3)
    chores.wash(yard.walk("2026-07-11", "15:00"), hives, "before")
    acid = yard.remedy("2026-07-25", GERMAN_FORMIC, None)
    given = chores.treat(
        yard.walk("2026-07-25", "19:00"),
        acid,
        hives,
        chores.alike({"dose": {"amount": 85, "unit": "g", "of": "solution", "per": "box"}}),
        kills=0.8,
        brood="yes",
        temperature=23,
    )
    chores.day_after(yard.walk("2026-07-26", "19:00"), hives, given)
    for day, grams in (("2026-07-25", 310), ("2026-07-27", 268), ("2026-07-30", 221)):
        walk = yard.walk(day, "19:30")
        for hive in hives:
            walk.write("weighed", {"grams": grams}, hive=hive, adds_to=given[hive.number])
    chores.wash(yard.walk("2026-08-15", "15:00"), hives, "after")
    return yard.scene


def united_states(seed: int, library: Library) -> Scene:
    """Return a year of two hives in the US: vapour in winter, amitraz strips in late summer."""
    yard = _settle(
        seed, library, "US", "America/Denver", "Cottonwood Draw", (40.8127, -104.2265), 2
    )
    hives = yard.apiary.hives
    vapour = yard.remedy("2025-12-13", US_VAPOUR, 0)
    chores.treat(
        yard.walk("2025-12-13", "12:00"),
        vapour,
        hives,
        chores.alike({"dose": {"amount": 4, "unit": "g", "of": "product", "per": "brood chamber"}}),
        kills=0.9,
        brood="none",
        temperature=6,
    )
    chores.wash(yard.walk("2026-05-09", "16:00"), hives, "season")
    chores.grow(hives, 3)
    strips = yard.remedy("2026-07-18", US_AMITRAZ, 14)
    chores.treat(
        yard.walk("2026-07-18", "08:30"),
        strips,
        hives,
        chores.alike({"pieces": 2}),
        kills=0.9,
        brood="yes",
        temperature=21,
    )
    chores.take_out(yard.walk("2026-09-05", "09:00"), strips, hives, 2)
    return yard.scene


def _settle(
    seed: int,
    library: Library,
    country: str,
    zone: str,
    name: str,
    where: tuple[float, float],
    number: int,
) -> Yard:
    random = Random(f"{seed}/{country}")  # noqa: S311  # invented data, not secrets
    scene = Scene(zone, random)
    start = datetime(2025, 9, 20, 9, 0)
    keeper = Person(scene.new_id(start), PHONE, "keeper")
    hives = [
        Hive(
            id=scene.new_id(start),
            number=str(count),
            colony=scene.new_id(start),
            seams=random.choice([6.0, 7.0, 8.0]),
            load=random.uniform(0.8, 1.6),
        )
        for count in range(1, number + 1)
    ]
    apiary = Apiary(scene.new_id(start), name, *where, hives)
    scene.write(keeper, start, "keeper", {"name": "Keeper", "role": "keeper", "beard": False})
    body = {"name": name, "country": country, "zone": zone, "lat": where[0], "lon": where[1]}
    scene.write(keeper, start + timedelta(minutes=1), "apiary", body, apiary=apiary)
    walk = Walk(scene, keeper, start.date(), "09:05", apiary)
    for stand, hive in enumerate(hives, start=1):
        walk.write("hive", {"number": hive.number, "stand": stand, "boxes": 1}, hive=hive)
        walk.write("colony", {"origin": "was there"}, hive=hive)
    return Yard(scene, keeper, apiary, library)
