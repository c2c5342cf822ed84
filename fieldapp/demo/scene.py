"""What a season is written with: people with phones, apiaries, hives, and a pen.

A `Scene` collects what happens as `Entry` after `Entry`. Nothing here reads a clock or draws
chance of its own: times stand in the plan, chance comes from one `random.Random` a scene.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from random import Random
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from fieldapp.journal import happened
from fieldapp.journal.ids import uuid7
from fieldapp.journal.record import Draft

_METRES_A_DEGREE = 111_320.0


def _true_clock(_when: datetime) -> timedelta:
    return timedelta(0)


@dataclass(frozen=True)
class Person:
    """Somebody of the operation with a phone; `ahead` says by how much its clock is fast."""

    id: str
    phone: str
    role: str
    ahead: Callable[[datetime], timedelta] = _true_clock


@dataclass
class Hive:
    """A hive as the plan sees it. `colony` is None while nobody lives in it.

    `load` is in mites per 100 bees, `seams` are seams occupied by bees; both are what the plan
    draws counts and doses from, and stand in no record themselves.
    """

    id: str
    number: str
    colony: str | None
    seams: float
    load: float
    supers: list[str] = field(default_factory=list)


@dataclass
class Apiary:
    """An apiary as the plan sees it, with its hives in the order of the walk."""

    id: str
    name: str
    lat: float
    lon: float
    hives: list[Hive] = field(default_factory=list)

    def living(self) -> list[Hive]:
        """Return the hives in which a colony lives."""
        return [hive for hive in self.hives if hive.colony is not None]

    def hive(self, number: str) -> Hive:
        """Return the hive that has `number` painted on it."""
        return next(hive for hive in self.hives if hive.number == number)


class Entry(NamedTuple):
    """One draft, the phone that writes it, and when that truly was (microseconds UTC)."""

    at: int
    phone: str
    draft: Draft

    @property
    def day(self) -> str:
        """The civil date that the phone noted, ``2026-07-04``."""
        return self.draft.happened[:10]


class Scene:
    """The pen: turns what the plan says into entries, in the zone of one operation."""

    def __init__(self, zone: str, random: Random) -> None:
        self.zone = ZoneInfo(zone)
        self.random = random
        self.entries: list[Entry] = []

    def new_id(self, when: datetime) -> str:
        """Return a fresh id made at `when`, a civil time of the operation's zone."""
        return uuid7(self._instant(when) // 1000, self.random.randbytes(10))

    def write(
        self,
        who: Person,
        when: datetime,
        kind: str,
        body: dict[str, Any],
        *,
        apiary: Apiary | None = None,
        hive: Hive | None = None,
        **envelope: Any,
    ) -> str:
        """Write one record of `kind` by `who` at the civil time `when`; return its id.

        `envelope` gives further fields of `Draft`: ``colony``, ``corrects``, ``heads``,
        ``void``, ``adds_to``, ``id``. What the phone notes as the time is by its own clock.
        """
        shown = when + who.ahead(when)
        envelope.setdefault("id", self.new_id(shown))
        if hive is not None:
            envelope.setdefault("colony", hive.colony)
        draft = Draft(
            kind=kind,
            happened=happened.format(self._instant(shown), self.zone.key),
            keeper=who.id,
            body=body,
            apiary=apiary.id if apiary else None,
            hive=hive.id if hive else None,
            **envelope,
        )
        self.entries.append(Entry(self._instant(when), who.phone, draft))
        return str(envelope["id"])

    def _instant(self, when: datetime) -> int:
        since = when.replace(tzinfo=self.zone) - datetime(1970, 1, 1, tzinfo=ZoneInfo("UTC"))
        return since // timedelta(microseconds=1)


class Walk:
    """One walk through an apiary by one person: each act a few minutes after the one before."""

    def __init__(self, scene: Scene, who: Person, day: date, start: str, apiary: Apiary) -> None:
        self.scene = scene
        self.who = who
        self.apiary = apiary
        self.now = datetime.combine(day, time.fromisoformat(start))

    def write(self, kind: str, body: dict[str, Any], hive: Hive | None = None, **more: Any) -> str:
        """Write one record at the walk's present minute and go on; return its id."""
        written = self.scene.write(
            self.who, self.now, kind, body, apiary=self.apiary, hive=hive, **more
        )
        self.now += timedelta(seconds=self.scene.random.randint(70, 240))
        return written

    def tap(self, kind: str, body: dict[str, Any], hive: Hive, **more: Any) -> str:
        """Write one record at a hive, and the position that the phone found soon after."""
        tapped = self.now
        written = self.scene.write(
            self.who, tapped, kind, body, apiary=self.apiary, hive=hive, **more
        )
        self._position(written, tapped, hive)
        self.now = tapped + timedelta(seconds=self.scene.random.randint(90, 300))
        return written

    def _position(self, of: str, tapped: datetime, hive: Hive) -> None:
        random = self.scene.random
        after = random.uniform(1.5, 28.0)
        place = self.apiary.hives.index(hive) * 2.5  # metres along the row of stands
        body = {
            "lat": round(self.apiary.lat + (place + random.gauss(0, 3)) / _METRES_A_DEGREE, 6),
            "lon": round(self.apiary.lon + random.gauss(0, 3) / _METRES_A_DEGREE, 6),
            "accuracy": round(random.uniform(4, 19), 1),
            "after_s": round(after, 1),
        }
        self.scene.write(
            self.who,
            tapped + timedelta(seconds=after),
            "position",
            body,
            apiary=self.apiary,
            hive=hive,
            adds_to=of,
        )
