"""The weather of an apiary as its keeper entered it, day by day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.choosing.situation import Weather
from fieldapp.husbandry.days import record_key
from fieldapp.journal.corrections import Version


class DayOutlook(NamedTuple):
    """One day's temperatures, whether they are a forecast, and the record that says so."""

    weather: Weather
    forecast: bool
    record: str


def outlook(versions: Iterable[Version]) -> dict[date, DayOutlook]:
    """Return the temperatures of each day that the ``outlook`` records of one apiary name.

    What was measured stands before a forecast, then what was entered later.
    """
    found: dict[date, DayOutlook] = {}
    holding = sorted((each.holds for each in versions if not each.void), key=record_key)
    for record in sorted(holding, key=lambda each: not each.body["forecast"]):
        for entry in record.body["days"]:
            weather = Weather(entry.get("low"), entry.get("mean"), entry.get("high"))
            found[date.fromisoformat(entry["day"])] = DayOutlook(
                weather, record.body["forecast"], record.id
            )
    return dict(sorted(found.items()))
