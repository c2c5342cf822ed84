"""What keepers log beside treatments: read by the agenda alone, or by no rule at all."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import Any

from rules_season import HIVE, OTHER, THIRD, Season

_FILE = {"sha256": "0" * 64, "size": 1000}
#: Kinds that name a hive, with bodies to choose from.
_OF_HIVE: dict[str, tuple[dict[str, Any], ...]] = {
    "feed": ({"what": "syrup", "amount": 3, "unit": "L"}, {"what": "fondant"}),
    "skip": ({"why": "too weak"}, {"why": "other", "words": "no time"}),
    "queen": tuple({"did": did} for did in ("caged", "released", "removed")),
    "board": ({"did": "in"}, {"did": "out"}),
    "day_after": ({"board": "0-20"},),
    "look": ({"queen": "seen"}, {"queen": "not seen"}),
    "count": ({"way": "wash", "mites": 2},),
}
#: Kinds that add to a record.
_ANNEXES: dict[str, dict[str, Any]] = {
    "note": {"words": "in the rain"},
    "photo": {**_FILE, "type": "image/jpeg"},
    "voice": {**_FILE, "type": "audio/ogg"},
    "position": {"lat": 52.0, "lon": 1.0, "accuracy": 8, "after_s": 3},
    "weighed": {"grams": 310},
}


def besides(season: Season, chance: Random, corrections: bool) -> None:
    """Write up to eight such records of any hive, some of them put right or taken back."""
    for _ in range(chance.randint(0, 8)):
        kind = chance.choice((*_OF_HIVE, *_ANNEXES))
        day = (date(2026, 1, 1) + timedelta(days=chance.randint(0, 200))).isoformat()
        if kind in _ANNEXES:
            roots = [r for r in season.records if r.corrects is None and r.adds_to is None]
            root = chance.choice(roots).id
            season.add(kind, day, _ANNEXES[kind], None, adds_to=root)
            continue
        hives = (HIVE, OTHER, THIRD)
        name = season.add(kind, day, chance.choice(_OF_HIVE[kind]), chance.choice(hives))
        if corrections and chance.random() < 0.3:
            season.correct(name, void=chance.random() < 0.4, hive=chance.choice(hives))
        if corrections and chance.random() < 0.1:
            season.correct(name, hive=chance.choice(hives))
