"""What keepers log besides, in random histories: no rule of courses, pieces or honey reads it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from history_scenes import Farm

_FILE = {"sha256": "0" * 64, "size": 1000}
_OF_HIVE: tuple[tuple[str, dict[str, Any]], ...] = (
    ("feed", {"what": "syrup", "amount": 3, "unit": "L"}),
    ("skip", {"why": "too weak"}),
    ("board", {"did": "in"}),
    ("day_after", {"board": "0-20"}),
    ("count", {"way": "wash", "mites": 2}),
)
_ANNEXES: tuple[tuple[str, dict[str, Any]], ...] = (
    ("note", {"words": "in the rain"}),
    ("photo", {**_FILE, "type": "image/jpeg"}),
    ("voice", {**_FILE, "type": "audio/ogg"}),
    ("position", {"lat": 52.0, "lon": 1.0, "accuracy": 8, "after_s": 3}),
    ("weighed", {"grams": 310}),
)


def chores(farm: Farm) -> None:
    """Feed, skips, boards and counts of any hive, and what adds to other records."""
    chance = farm.chance
    for _ in range(chance.randint(0, 6)):
        day = farm.start + timedelta(chance.randint(-20, 200))
        kind, body = chance.choice(_OF_HIVE)
        farm.pen.write(kind, day, chance.choice(list(farm.living)), **body)
    for _ in range(chance.randint(0, 3)):
        root = chance.choice(farm.pen.records)
        kind, body = chance.choice(_ANNEXES)
        if root.adds_to is None:
            farm.pen.write(kind, date.fromisoformat(root.day), adds_to=root.id, **body)
