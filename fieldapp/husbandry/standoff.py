"""How far off: the temperature before a nozzle, and the distance beyond which it is under a limit.

No limit for bees ships with this product, since no source gives one; the limit is the keeper's.
Only fast strokes count for the distance, they are the hotter ones. Between measured distances
a straight line stands; outside them nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from fieldapp.husbandry.errors import Unfitting
from fieldapp.words import Phrase, say


class Heat(NamedTuple):
    """A temperature measured before the nozzle: pace *slow* or *fast*, cm, degC, liquid spat."""

    pace: str
    distance: float
    temperature: float
    spat: bool | None = None


class StandOff(NamedTuple):
    """The distance for a limit.

    *further than*: everything measured and in between beyond `distance` (cm) is under the
    limit. *from*: so is all that was measured, the nearest at `distance`; nearer is not known.
    *none measured*: the farthest is not under it, measure further out.
    """

    says: Literal["further than", "from", "none measured"]
    distance: float | None
    words: Phrase


def stand_off(heats: Iterable[Heat], limit: float) -> StandOff:
    """Return the stand-off for `limit` degC from the fast strokes among `heats`."""
    fast: dict[float, float] = {}
    for each in heats:
        if each.distance < 0:
            raise Unfitting(say("A distance is not below zero."))
        if each.pace == "fast":
            hottest = max(each.temperature, fast.get(each.distance, each.temperature))
            fast[each.distance] = hottest
    row = sorted(fast.items(), reverse=True)
    if not row or row[0][1] >= limit:
        return StandOff("none measured", None, say("none measured, measure further out"))
    far, cool = row[0]
    for near, hot in row[1:]:
        if hot >= limit:
            distance = near + (far - near) * (hot - limit) / (hot - cool)
            words = say("further than {distance} cm", distance=round(distance, 1))
            return StandOff("further than", distance, words)
        far, cool = near, hot
    words = say("from {distance} cm on, the nearest that was measured", distance=round(far, 1))
    return StandOff("from", far, words)


def spits(heats: Iterable[Heat]) -> tuple[tuple[str, float], ...]:
    """Return the paces and distances at which liquid spat, nearest first."""
    spat = {(each.pace, each.distance) for each in heats if each.spat}
    return tuple(sorted(spat, key=lambda each: (each[1], each[0])))
