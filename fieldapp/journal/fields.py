"""What a field of a record's body may hold: small checks that name what they expected.

A check is a callable that takes a decoded JSON value and returns ``None`` where the value
fits, or an `Unfit` that names the place inside the value and what was expected there.
Checks never raise and never change the value: a record is judged, not mended.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from types import FunctionType
from typing import Any, NamedTuple

from fieldapp.words import Phrase, listed, say

UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
HEX_WRITER = re.compile(r"[0-9a-f]{32}")
HEX_DIGEST = re.compile(r"[0-9a-f]{64}")
#: Where a field is needed and does not stand.
MISSING = say("there: it is missing")
_NO_SUCH = say("left out: no such field is known")
_OBJECT = say("an object")
_TRUE_OR_FALSE = say("true or false")
_DATE = say("a date as 2026-07-04")


class Unfit(NamedTuple):
    """A value that does not fit: where inside it (empty for the value itself), and what fits."""

    where: str
    expected: Phrase


Check = Callable[[Any], Unfit | None]


@dataclass(frozen=True, slots=True)
class Field:
    """One named entry of a body: its check, whether it must stand, and what it means."""

    check: Check
    required: bool
    means: str


def need(check: Check, means: str) -> Field:
    """Return a field that every record of the kind carries."""
    return Field(check, True, means)


def may(check: Check, means: str) -> Field:
    """Return a field that is left out where it is not known. Left out is *not known*, never 0."""
    return Field(check, False, means)


def text(most: int = 200) -> Check:
    """Return a check for a text that is not empty and has at most `most` characters."""
    expected = say("a text of 1 to {most} characters", most=most)

    def check(value: Any) -> Unfit | None:
        return None if type(value) is str and 0 < len(value) <= most else Unfit("", expected)

    return check


def number(low: float, high: float) -> Check:
    """Return a check for a number from `low` to `high`, both included."""
    expected = say("a number from {low} to {high}", low=f"{low:g}", high=f"{high:g}")

    def check(value: Any) -> Unfit | None:
        fits = (type(value) is int or type(value) is float) and low <= value <= high
        return None if fits else Unfit("", expected)

    return check


def whole(low: int, high: int) -> Check:
    """Return a check for a whole number from `low` to `high`, both included."""
    expected = say("a whole number from {low} to {high}", low=low, high=high)

    def check(value: Any) -> Unfit | None:
        return None if type(value) is int and low <= value <= high else Unfit("", expected)

    return check


def yes_no(value: Any) -> Unfit | None:
    """Check for true or false."""
    return None if type(value) is bool else Unfit("", _TRUE_OR_FALSE)


def choice(*words: str) -> Check:
    """Return a check for one of `words`."""
    allowed = frozenset(words)
    expected = say("one of: {words}", words=listed(words))

    def check(value: Any) -> Unfit | None:
        return None if type(value) is str and value in allowed else Unfit("", expected)

    return check


def _matching(pattern: re.Pattern[str], expected: Phrase) -> Check:
    def check(value: Any) -> Unfit | None:
        fits = type(value) is str and pattern.fullmatch(value)
        return None if fits else Unfit("", expected)

    return check


ref = _matching(UUID, say("an id: a UUID in lowercase"))
writer_id = _matching(HEX_WRITER, say("a writer: 32 lowercase hex digits"))
digest = _matching(HEX_DIGEST, say("a SHA-256: 64 lowercase hex digits"))


def day(value: Any) -> Unfit | None:
    """Check for a civil date as ``2026-07-04``."""
    if type(value) is str and len(value) == 10:
        try:
            date.fromisoformat(value)
        except ValueError:
            pass
        else:
            return None
    return Unfit("", _DATE)


def many(check: Check, least: int = 0, most: int = 1000) -> Check:
    """Return a check for a list of `least` to `most` values that each fit `check`."""
    expected = say("a list of {least} to {most}", least=least, most=most)

    def check_all(value: Any) -> Unfit | None:
        if type(value) is not list or not least <= len(value) <= most:
            return Unfit("", expected)
        for index, item in enumerate(value):
            if (unfit := check(item)) is not None:
                return Unfit(_join(str(index), unfit.where), unfit.expected)
        return None

    return check_all


def shape(fields: Mapping[str, Field]) -> Check:
    """Return a check for an object with exactly these fields, those of `may` left out or not."""
    required = tuple(name for name, field in fields.items() if field.required)
    checks = {name: field.check for name, field in fields.items()}

    def check(value: Any) -> Unfit | None:
        if type(value) is not dict:
            return Unfit("", _OBJECT)
        for name, item in value.items():
            known = checks.get(name)
            if known is None:
                return Unfit(name, _NO_SUCH)
            if (unfit := known(item)) is not None:
                return Unfit(_join(name, unfit.where), unfit.expected)
        for name in required:
            if name not in value:
                return Unfit(name, MISSING)
        return None

    return check


def table(keys: Check, values: Check, most: int = 200) -> Check:
    """Return a check for an object whose keys fit `keys` and whose values fit `values`."""

    def check(value: Any) -> Unfit | None:
        if type(value) is not dict or len(value) > most:
            return Unfit("", say("an object of at most {most} entries", most=most))
        for name, item in value.items():
            if (unfit := keys(name)) is not None:
                return Unfit(name, unfit.expected)
            if (unfit := values(item)) is not None:
                return Unfit(_join(name, unfit.where), unfit.expected)
        return None

    return check


def outline(check: Check) -> str:
    """Return all that a check takes as a text: two checks with one text take the same values."""
    if not isinstance(check, FunctionType):
        return repr(check)
    held = dict(zip(check.__code__.co_freevars, check.__closure__ or (), strict=True))
    inside = ", ".join(f"{name}={_outlined(held[name].cell_contents)}" for name in sorted(held))
    return f"{check.__qualname__}({inside})"


def _outlined(value: Any) -> str:
    if isinstance(value, FunctionType):
        return outline(value)
    if isinstance(value, Mapping):
        return ", ".join(f"{name}: {_outlined(value[name])}" for name in sorted(value))
    return repr(sorted(value)) if isinstance(value, frozenset) else repr(value)


def _join(outer: str, inner: str) -> str:
    return f"{outer}.{inner}" if inner else outer
