"""A hive for which a plain treatment suits, and shortcuts for asking what another does."""

from __future__ import annotations

from datetime import date, timedelta

from computing_cases import terms

from fieldapp.husbandry.choosing.options import options
from fieldapp.husbandry.choosing.situation import Situation, Weather

DAY = date(2026, 8, 10)


MILD = {DAY + timedelta(days=n): Weather(12, 18, 24) for n in range(60)}


HIVE = Situation(
    brood="none",
    queen="present",
    supers="off",
    outlook=MILD,
    others_untreated=False,
    standstill=False,
    flow=False,
    last_harvest_taken=True,
    sizes={"frames of brood": 7, "frames of bees": 9, "seams": 9, "boxes": 1, "bees": 15000},
)


PLAIN = {
    "brood": "none",
    "supers": "off",
    "temperature": [
        {"what": "maximum", "from_day": 0, "to_day": 3, "high": 29.5, "weight": "must"}
    ],
}


def says(hive: Situation = HIVE, **values) -> str:
    return options([terms(**{**PLAIN, **values})], hive, DAY)[0].says


def findings(aspect: str, hive: Situation = HIVE, **values) -> list:
    (option,) = options([terms(**{**PLAIN, **values})], hive, DAY)
    return [each for each in option.findings if each.aspect == aspect]
