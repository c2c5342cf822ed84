"""The paired phones, in words: when they were here, and whether they compute as the server does."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import NamedTuple

from fieldapp.wire.versions import Newer, Versions, newer
from fieldapp.words import Phrase, say
from fieldapp.words.speech import Speech
from syncserver.store import Device


class PhoneView(NamedTuple):
    """One phone, spoken; `differs` where it counts otherwise than this server."""

    name: str
    paired: str
    last: str
    counts: str
    differs: bool


def phones(devices: Iterable[Device], ours: Versions, speech: Speech) -> list[PhoneView]:
    """Return the phones, spoken."""
    return [
        PhoneView(
            device.name,
            _date(device.paired, speech),
            _last(device, speech),
            speech(_counts(device, ours)),
            device.rules is not None and _theirs(device) != ours,
        )
        for device in devices
    ]


def own(ours: Versions) -> Phrase:
    """Return by what this server computes."""
    return say(
        "This server counts with rules {rules} and treatment library {library}.",
        rules=ours.rules,
        library=ours.library,
    )


def _theirs(device: Device) -> Versions:
    return Versions(device.rules or 0, device.library or "")


def _counts(device: Device, ours: Versions) -> Phrase:
    """Return whether a phone counts as this server does, and which of the two to update."""
    if device.rules is None:
        return say("not known")
    theirs = _theirs(device)
    if theirs.rules > ours.rules:
        return say(
            "newer rules ({rules}): dates may differ, update this server", rules=theirs.rules
        )
    if theirs.rules < ours.rules:
        return say("older rules ({rules}): dates may differ, update it", rules=theirs.rules)
    return _library(theirs.library, newer(ours.library, theirs.library))


def _library(theirs: str, whose: Newer) -> Phrase:
    if whose == "theirs":
        return say("newer library ({library}): update this server", library=theirs)
    if whose == "ours":
        return say("older library ({library}): update it", library=theirs)
    if whose == "other":
        return say("another library ({library})", library=theirs)
    return say("as this server")


def _last(device: Device, speech: Speech) -> str:
    if device.revoked is not None:
        return speech(say("revoked {day}", day=_day(device.revoked)))
    return speech(say("never")) if device.seen is None else _date(device.seen, speech)


def _date(seconds: int, speech: Speech) -> str:
    return speech.day(_day(seconds))


def _day(seconds: int) -> date:
    return datetime.fromtimestamp(seconds, UTC).astimezone().date()
