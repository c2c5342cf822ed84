"""Who and what the upland year is about: people, apiaries, hives, and the treatments in use."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from random import Random

from fieldapp.demo.remedies import Remedy, first_use, named
from fieldapp.demo.scene import Apiary, Hive, Person, Scene, Walk
from fieldapp.husbandry.library import Library

FIRST_DAY = date(2025, 9, 20)
TODAY = date(2026, 9, 19)
"""The demo's today: set here and never read from the clock, so that every picture stays."""

OFFLINE_FROM = date(2026, 8, 15)
"""From this day on the helper's phone met no server, for five weeks."""

FAST_BY = timedelta(minutes=11)
"""By so much the clock of the helper's phone was fast in those weeks."""

ZONE = "Europe/London"
KEEPERS_PHONE = "keeper"
HELPERS_PHONE = "helper"


@dataclass
class Cast:
    """Everything that the parts of the year share."""

    scene: Scene
    library: Library
    keeper: Person
    helper: Person
    ferry: Apiary
    quarry: Apiary
    orchard: Apiary
    remedies: dict[str, Remedy] = field(default_factory=dict)

    @property
    def apiaries(self) -> tuple[Apiary, Apiary, Apiary]:
        """Return the three apiaries."""
        return self.ferry, self.quarry, self.orchard

    def walk(self, who: Person, day: str, start: str, apiary: Apiary) -> Walk:
        """Return a walk of `who` through `apiary` from the civil time `start` on."""
        return Walk(self.scene, who, date.fromisoformat(day), start, apiary)

    def remedy(self, who: Person, day: str, identity: str, label_days: int | None = None) -> Remedy:
        """Return the library's treatment `identity`; its terms are written at its first use."""
        if identity not in self.remedies:
            body = named(self.library, identity)
            when = datetime.fromisoformat(f"{day}T07:40")
            self.remedies[identity] = first_use(self.scene, who, when, body, label_days)
        return self.remedies[identity]


def cast(seed: int, library: Library) -> Cast:
    """Return the people, places and hives of the year; nothing has happened yet."""
    random = Random(f"{seed}/upland")  # noqa: S311  # invented data, not secrets
    scene = Scene(ZONE, random)
    start = datetime.combine(FIRST_DAY, datetime.min.time())
    new = scene.new_id

    def helpers_clock(when: datetime) -> timedelta:
        return FAST_BY if when.date() >= OFFLINE_FROM else timedelta(0)

    def apiary(name: str, lat: float, lon: float, numbers: range) -> Apiary:
        hives = [
            Hive(
                id=new(start),
                number=str(number),
                colony=new(start),
                seams=random.choice([5.0, 5.5, 6.0, 6.25, 7.0, 7.5, 8.0]),
                load=random.uniform(0.6, 1.6),
            )
            for number in numbers
        ]
        return Apiary(new(start), name, lat, lon, hives)

    made = Cast(
        scene=scene,
        library=library,
        keeper=Person(new(start), KEEPERS_PHONE, "keeper"),
        helper=Person(new(start), HELPERS_PHONE, "helper", helpers_clock),
        ferry=apiary("Ferry Lane", 54.2831, -2.4417, range(1, 13)),
        quarry=apiary("Quarry Top", 54.3068, -2.3902, range(21, 28)),
        orchard=apiary("Orchard Row", 54.2615, -2.3526, range(31, 36)),
    )
    made.orchard.hive("35").colony = None  # empty until a swarm comes to live in it
    return made
