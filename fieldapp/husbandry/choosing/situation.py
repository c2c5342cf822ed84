"""What is known of a hive on a day, as choosing a treatment needs it.

Everything starts as *not known*: whoever fills this in says what was seen, and nothing is
taken for granted.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, NamedTuple


class Weather(NamedTuple):
    """Temperatures of one day in degC as the keeper entered them; None: not known."""

    low: float | None = None
    mean: float | None = None
    high: float | None = None


class PastCourse(NamedTuple):
    """A course that the colony had: treatment, its class, application days, how it stands.

    `end` is the last application or last piece out, None while it goes on; `pieces_in` while
    a piece is in. `records` are its root ids.
    """

    treatment: str
    class_: str | None
    applications: tuple[date, ...]
    end: date | None
    pieces_in: bool = False
    records: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Situation:
    """One hive on one day.

    `queen` is *absent* only where a keeper found the colony queenless or took her out.
    `sizes` is by the unit of the terms' `colony_size` (``frames of brood``, ``frames of bees``,
    ``seams``, ``boxes``, ``bees``); `outlook` by day; `stock` how much is on hand and
    `needed` how much one application of this hive takes, both by treatment in one unit;
    `prescribed` by treatment. `grounds` names the records behind an aspect. None and a missing
    entry are *not known*.
    """

    brood: Literal["none", "hardly any", "yes", "not known"] = "not known"
    queen: Literal["present", "absent", "not known"] = "not known"
    supers: Literal["off", "on", "not known"] = "not known"
    sizes: Mapping[str, float] = field(default_factory=dict)
    courses: tuple[PastCourse, ...] = ()
    outlook: Mapping[date, Weather] = field(default_factory=dict)
    others_untreated: bool | None = None
    standstill: bool | None = None
    flow: bool | None = None
    last_harvest_taken: bool | None = None
    stock: Mapping[str, float] = field(default_factory=dict)
    needed: Mapping[str, float] = field(default_factory=dict)
    prescribed: Mapping[str, bool] = field(default_factory=dict)
    grounds: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
