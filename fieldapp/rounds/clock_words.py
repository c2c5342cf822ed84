"""The question of the clock in words: by how much, against whose clock, for how many records."""

from __future__ import annotations

from datetime import date
from typing import Literal

from fieldapp.journal import happened
from fieldapp.words import Phrase, count, say

#: Whose clock this phone's was held to.
By = Literal["server", "satellites"]


def question(by: By, ahead_ms: int, number: int) -> Phrase:
    """Return the question for so many records; `ahead_ms` below 0 is behind."""
    how = _long(round(abs(ahead_ms) / 60_000))
    if by == "satellites":
        return _by_satellite(ahead_ms > 0, how, number)
    if ahead_ms > 0:
        return count(
            "This phone's clock was {how} ahead of the server's. Which is right for {n} record?",
            "This phone's clock was {how} ahead of the server's. Which is right for {n} records?",
            number,
            how=how,
        )
    return count(
        "This phone's clock was {how} behind the server's. Which is right for {n} record?",
        "This phone's clock was {how} behind the server's. Which is right for {n} records?",
        number,
        how=how,
    )


def _by_satellite(ahead: bool, how: Phrase, number: int) -> Phrase:
    if ahead:
        return count(
            "This phone's clock was {how} ahead of satellite time. Which is right for {n} record?",
            "This phone's clock was {how} ahead of satellite time. Which is right for {n} records?",
            number,
            how=how,
        )
    return count(
        "This phone's clock was {how} behind satellite time. Which is right for {n} record?",
        "This phone's clock was {how} behind satellite time. Which is right for {n} records?",
        number,
        how=how,
    )


def correct(by: By, number: int) -> Phrase:
    """Return the answer that believes the other clock."""
    if by == "satellites":
        return count(
            "Satellite time is right: correct {n} record",
            "Satellite time is right: correct all {n} records",
            number,
        )
    return count(
        "The server's clock is right: correct {n} record",
        "The server's clock is right: correct all {n} records",
        number,
    )


def both(by: By, here: str, there: str) -> Phrase:
    """Return one moment as this phone's clock had it and as the other did (RFC 9557 both)."""
    times: dict[str, date | str] = {
        "day": happened.civil(here),
        "time": here[11:16],
        "other_day": happened.civil(there),
        "other_time": there[11:16],
    }
    if by == "satellites":
        return say("Here {day}, {time}; by satellite {other_day}, {other_time}", **times)
    return say("Here {day}, {time}; by the server's clock {other_day}, {other_time}", **times)


def _long(minutes: int) -> Phrase:
    if minutes < 120:
        return count("{n} minute", "{n} minutes", minutes)
    if minutes < 48 * 60:
        return count("{n} hour", "{n} hours", round(minutes / 60))
    return count("{n} day", "{n} days", round(minutes / 1440))
