"""What may be one under two ids, because two phones began apart: apiaries, hives, keepers.

Two of one name, number or place are asked about once. The answer is a ``same_as`` record; where
they are two, one that is void, which says of exactly these ids that they are not the same.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from typing import Literal, NamedTuple

from fieldapp.book.answers import Place
from fieldapp.husbandry.distance import metres
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.record import Record
from fieldapp.journal.same_as import Same

What = Literal["apiary", "hive", "keeper"]
#: Apiaries nearer to each other than this many metres may be one under two names.
NEAR_M = 100.0
#: Of so many alike pairs are asked about; more would be numbers given without care.
_MOST_ALIKE = 5


class Alike(NamedTuple):
    """Two ids of one kind, the smaller first; `names` are what they are called.

    `apiary` is where hives stand.
    """

    what: What
    ids: tuple[str, str]
    names: tuple[str, str]
    apiary: str = ""


def alike(
    places: Sequence[Place],
    states: Iterable[HiveState],
    keepers: Mapping[str, str],
    same: Same,
    apart: Iterable[Record],
) -> list[Alike]:
    """Return the pairs that nobody has said anything of.

    `places` and `states` are under the ids that stand for them; `keepers` are names by id,
    `apart` the ``same_as`` records that are void.
    """
    parted: dict[str, list[set[str]]] = defaultdict(list)
    for record in apart:
        what = record.body["what"]
        parted[what].append({same.of(what, name) for name in record.body["ids"]})
    people = {same.of("keeper", keeper): name for keeper, name in sorted(keepers.items())}
    found = [*_apiaries(places), *_keepers(people), *_hives(states)]
    return [
        each
        for each in found
        if not any(set(each.ids) <= ids and len(ids) > 1 for ids in parted[each.what])
    ]


def _apiaries(places: Sequence[Place]) -> Iterator[Alike]:
    for one, other in combinations(sorted(places), 2):
        if _folded(one.name) == _folded(other.name) or _near(one, other):
            yield Alike("apiary", (one.id, other.id), (one.name, other.name))


def _near(one: Place, other: Place) -> bool:
    if one.lat is None or one.lon is None or other.lat is None or other.lon is None:
        return False
    return metres(one.lat, one.lon, other.lat, other.lon) < NEAR_M


def _keepers(people: Mapping[str, str]) -> Iterator[Alike]:
    named: dict[tuple[str, str], list[tuple[str, str]]] = defaultdict(list)
    for keeper, name in people.items():
        named["", _folded(name)].append((keeper, name))
    yield from _pairs("keeper", named)


def _hives(states: Iterable[HiveState]) -> Iterator[Alike]:
    named: dict[tuple[str, str], list[tuple[str, str]]] = defaultdict(list)
    for state in states:
        if state.number and state.apiary is not None and not state.ended:
            named[state.apiary, _folded(state.number)].append((state.hive, state.number))
    yield from _pairs("hive", named)


def _pairs(what: What, named: Mapping[tuple[str, str], list[tuple[str, str]]]) -> Iterator[Alike]:
    for (apiary, _), group in named.items():
        for (one, name), (other, other_name) in combinations(sorted(group)[:_MOST_ALIKE], 2):
            yield Alike(what, (one, other), (name, other_name), apiary)


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()
