"""Temperature, in the terms of the label, against the outlook that the keeper entered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any, Literal

from fieldapp.husbandry.choosing.label import Finding, Label
from fieldapp.husbandry.choosing.situation import Situation, Weather
from fieldapp.words import Degrees, Phrase, say

#: *partly*: the day has hours inside and hours outside.
Fits = Literal["inside", "outside", "partly", "not known"]


def temperature(label: Label, hive: Situation, day: date) -> list[Finding]:
    """Return what each temperature of the label says of an application on `day`."""
    entries = label.value("temperature")
    if entries is None:
        return [] if label.form == "act" else [label.missing("temperature")]
    return [_one(label, entry, hive, day) for entry in entries]


def _one(label: Label, entry: Mapping[str, Any], hive: Situation, day: date) -> Finding:
    first = entry.get("from_day", 0)
    days = [day + timedelta(days=n) for n in range(first, entry.get("to_day", first) + 1)]
    fits = fit(entry, [hive.outlook.get(each, Weather()) for each in days])
    records = hive.grounds.get("outlook", ())
    phrase = say(
        "{what}, {bounds}, {when}: {fits}",
        what=_what(entry["what"]),
        bounds=_bounds(entry),
        when=_when(days[0], days[-1]),
        fits=_fits(fits),
    )
    if entry["weight"] == "ideal":
        return label.found("temperature", "temperature", "remark", phrase, records)
    if fits == "outside" and entry["weight"] == "danger outside":
        phrase = say("danger to queen, brood or colony: {what}", what=phrase)
    if fits in ("partly", "not known"):
        return label.found("temperature", "temperature", "not known", phrase, records)
    verdict: Literal["suits", "does not suit"] = "suits" if fits == "inside" else "does not suit"
    return label.found("temperature", "temperature", verdict, phrase, records)


def fit(entry: Mapping[str, Any], days: Sequence[Weather]) -> Fits:
    """Return how the temperatures of `days` lie to a label's bounds (both included).

    A single day that is known to be outside decides; otherwise every day has to be known,
    unless there is no bound. A *mean* is that of all days together. *Any* means whenever it is
    done: inside if the whole day is, outside if the whole day is, else *partly*, by the hour.
    """
    low, high = entry.get("low", float("-inf")), entry.get("high", float("inf"))
    if "low" not in entry and "high" not in entry:
        return "inside"
    if entry["what"] == "any":
        each = [_any(day, low, high) for day in days]
    elif entry["what"] == "mean":
        means = [day.mean for day in days]
        known = [mean for mean in means if mean is not None]
        whole = sum(known) / len(known) if known and len(known) == len(means) else None
        each = [_inside(whole, low, high)]
    else:
        part = {"maximum": "high", "minimum": "low", "average": "mean"}[entry["what"]]
        each = [_inside(getattr(day, part), low, high) for day in days]
    if "outside" in each:
        return "outside"
    worst: tuple[Fits, ...] = ("not known", "partly")
    return next((fits for fits in worst if fits in each), "inside")


def _inside(value: float | None, low: float, high: float) -> Fits:
    if value is None:
        return "not known"
    # Bounds in degF are kept to a tenth of a degC, so a temperature is held to them as finely.
    return "inside" if low <= round(value, 1) <= high else "outside"


def _any(day: Weather, low: float, high: float) -> Fits:
    never, always = float("inf"), float("-inf")
    if "outside" in (_inside(day.high, low, never), _inside(day.low, always, high)):
        return "outside"
    coldest = _inside(day.low, low, never) if low > always else "inside"
    warmest = _inside(day.high, always, high) if high < never else "inside"
    if coldest == warmest == "inside":
        return "inside"
    return "not known" if "not known" in (coldest, warmest) else "partly"


def _when(first: date, last: date) -> Phrase:
    if first == last:
        return say("on {day}", day=first)
    return say("from {first} to {last}", first=first, last=last)


def _what(what: str) -> Phrase:
    return {
        "maximum": say("highest of each day"),
        "minimum": say("lowest of each day"),
        "mean": say("mean of all days"),
        "average": say("mean of each day"),
        "any": say("temperature when it is done"),
    }[what]


def _bounds(entry: Mapping[str, Any]) -> Phrase:
    low, high = (Degrees(entry[end]) if end in entry else None for end in ("low", "high"))
    if low is not None and high is not None:
        return say("{low} to {high}", low=low, high=high)
    if low is not None:
        return say("at least {low}", low=low)
    return say("at most {high}", high=high) if high is not None else say("without a limit")


def _fits(fits: Fits) -> Phrase:
    return {
        "inside": say("the outlook is inside"),
        "outside": say("the outlook is outside"),
        "partly": say("the outlook is inside for part of the day: by the hour"),
        "not known": say("the outlook is not known, enter it"),
    }[fits]
