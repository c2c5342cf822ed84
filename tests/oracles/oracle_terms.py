"""Withdrawal periods, who gave them, and the seasons that some of them wait for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from oracle_state import Exposure, Terms
from oracle_versions import Fact

_GROUND = ("read", "computed", "label in hand")


@dataclass(frozen=True)
class Period:
    """A known period: so many days, or (`days` None) until next season's supers."""

    days: int | None
    honey_only: bool

    @property
    def zero(self) -> bool:
        return self.days == 0


def supers_said(terms: Terms) -> str | None:
    """Return what the terms say of supers; what is only told is no ground and says nothing."""
    entry = terms.entry("supers")
    return entry["value"] if entry is not None and entry["standing"] in _GROUND else None


def wants_off(terms: Terms) -> bool:
    """Terms that do not say whether supers may be on count as if they must be off."""
    return supers_said(terms) != "allowed"


def closes_between(terms: Terms, periods: list[Period] | None) -> bool:
    """Whether the days between applications are closed.

    Where terms do not say so, as if they did, except a period of zero with supers allowed. That
    supers must be off says nothing of the days between; *off, at applications* does.
    """
    supers = supers_said(terms)
    if supers == "off, at applications":
        return False
    if supers == "allowed":
        return periods is None or not all(period.zero for period in periods)
    return True


def periods_of(facts: list[Fact], terms: Terms, given_in: str) -> list[Period] | None:
    """Return the known periods, of which the later end counts; None: not known."""
    library = _library(terms)
    entries = [
        fact
        for fact in facts
        if fact.kind == "period"
        and fact.body["treatment"] == terms.treatment
        and fact.hive in (None, given_in)
        and _gave_enough(fact.body["given_by"])
        and _period(fact.body["period"]) is not None
    ]
    if not entries:
        return None if library is None else [library]
    latest = entries[-1]
    entered = _period(latest.body["period"])
    assert entered is not None
    replaced = latest.body["given_by"]["who"] == "label in hand"
    return [entered] if replaced or library is None else [entered, library]


def _library(terms: Terms) -> Period | None:
    entry = terms.entry("period")
    if entry is None or terms.body is None or not terms.body["published"]:
        return None
    return _period(entry["value"]) if entry["standing"] in _GROUND else None


def _period(value: dict[str, Any]) -> Period | None:
    honey_only = value.get("honey_only", False)
    if value["form"] == "next season's supers":
        return Period(None, honey_only)
    return Period(value["days"], honey_only) if "days" in value else None


def _gave_enough(given_by: dict[str, Any]) -> bool:
    """A label line, or a named veterinarian or authority with date and document."""
    if given_by["who"] == "label in hand":
        return "document" in given_by
    if given_by["who"] in ("veterinarian", "authority"):
        return all(name in given_by for name in ("name", "day", "document"))
    return False


def is_south(facts: list[Fact], hive: str, day: date) -> bool | None:
    """Whether the hive stood south of the equator on `day`, None where no record says."""
    apiary = None
    stood = _latest([f for f in facts if f.kind == "hive" and f.hive == hive], day)
    if stood is not None:
        apiary = stood.apiary
    place = _latest(
        [f for f in facts if f.kind == "apiary" and f.apiary == apiary and "lat" in f.body], day
    )
    return None if place is None else place.body["lat"] < 0


def _latest(facts: list[Fact], day: date) -> Fact | None:
    """Return the latest up to `day`, else the first after it."""
    upto = [fact for fact in facts if fact.day <= day]
    return upto[-1] if upto else (facts[0] if facts else None)


def season_end(day: date, south: bool | None) -> date:
    """Return the last day of the season in which `day` lies; the later one for no known side."""
    north_end = date(day.year, 12, 31)
    south_end = date(day.year if day.month <= 6 else day.year + 1, 6, 30)
    if south is None:
        return max(north_end, south_end)
    return south_end if south else north_end


def next_supers(
    facts: list[Fact], hive: str, exposure: Exposure, south: bool | None
) -> date | None:
    """Return the first day of a season after the exposure's with a super going on, if any.

    On the boxes that its combs are in since they came, or were in before they left.
    """
    assert exposure.last_out is not None
    for fact in facts:
        on = None
        if fact.kind == "super_on":
            on = fact.hive
        elif fact.kind == "super_carried":
            on = fact.body["to_hive"]
        sides = [south] if on == hive and fact.key > exposure.here_since else []
        sides += [
            is_south(facts, home, exposure.last_out)
            for home, left in exposure.stood
            if on == home and fact.key < left
        ]
        if any(_later_season(fact.day, exposure.last_out, side) for side in sides):
            return fact.day
    return None


def _later_season(day: date, end: date, south: bool | None) -> bool:
    sides = (False, True) if south is None else (south,)
    return all(day > season_end(end, side) for side in sides)


def days(number: int) -> timedelta:
    return timedelta(days=number)


def add_months(day: date, months: int) -> date:
    """Return `day` so many calendar months later, clamped to the last day of the month."""
    total = day.year * 12 + day.month - 1 + months
    year, month = divmod(total, 12)
    for number in (day.day, 30, 29, 28):
        try:
            return date(year, month + 1, number)
        except ValueError:
            continue
    raise AssertionError
