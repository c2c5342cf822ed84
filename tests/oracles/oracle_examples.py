"""Invented treatments, and short questions to the oracle, for the worked examples."""

from __future__ import annotations

from datetime import date
from typing import Any

from plain_rules import Answers, CourseAnswer, ExposureAnswer, answers
from record_maker import RecordMaker, made_id

HIVE, OTHER, THIRD = made_id(1_000_001), made_id(1_000_002), made_id(1_000_003)
BEES, PART = made_id(2_000_001), made_id(2_000_002)
FAR = "2030-01-01"


def d(text: str) -> date:
    return date.fromisoformat(text)


def ask(maker: RecordMaker, day: str) -> Answers:
    return answers(maker.records, d(day))


def course(maker: RecordMaker, day: str = FAR, hive: str = HIVE) -> CourseAnswer:
    (only,) = ask(maker, day).courses[hive]
    return only


def pieces(maker: RecordMaker, day: str = FAR, hive: str = HIVE) -> ExposureAnswer:
    (only,) = ask(maker, day).exposures[hive]
    return only


def closed(maker: RecordMaker, hive: str = HIVE) -> list[tuple[str, str | None]]:
    return [
        (str(first), None if last is None else str(last))
        for first, last in ask(maker, FAR).closed[hive]
    ]


def vapour(maker: RecordMaker, **other: Any) -> dict[str, Any]:
    values: dict[str, Any] = {
        "applications": {"least": 3, "usual": 5, "most": 6},
        "gap": {"least": 4, "target": 5, "most": 7},
        "supers": "off, at applications",
        "period": {"form": "days", "days": 0},
        **other,
    }
    return {"treatment": "vapour", "terms": maker.terms("vapour", **values)}


def strips(maker: RecordMaker, days: int = 14, **other: Any) -> dict[str, Any]:
    values: dict[str, Any] = {
        "applications": {"least": 1, "usual": 1, "most": 1},
        "stay": [{"when": "any", "least": 42, "most": 56}],
        "supers": "off",
        "period": {"form": "days", "days": days},
        **other,
    }
    return {"treatment": "strips", "terms": maker.terms("strips", "pieces", **values)}


BY_BROOD = [
    {"when": "no or hardly any brood", "least": 42, "most": 49},
    {"when": "brood", "least": 70, "most": 77},
]
