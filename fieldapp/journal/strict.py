"""JSON as records may hold it: stricter than readers are, so that all replicas read alike."""

from __future__ import annotations

import json
from math import isinf
from typing import Any, Final, NoReturn

from fieldapp.words import Phrase, say

DEEPEST: Final = 32

_LARGEST_WHOLE = 2**53
_LONGEST_WHOLE = len(str(_LARGEST_WHOLE)) + 1


class Unfit(ValueError):
    """Something that JSON readers let through and a record may not hold.

    `phrase` says what it may hold.
    """

    def __init__(self, phrase: Phrase) -> None:
        super().__init__(phrase.text)
        self.phrase = phrase


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    value = dict(pairs)
    if len(value) != len(pairs):
        raise Unfit(say("each key once"))
    return value


def _whole(text: str) -> int:
    if len(text) > _LONGEST_WHOLE or not -_LARGEST_WHOLE <= (value := int(text)) <= _LARGEST_WHOLE:
        raise Unfit(say("whole numbers up to 2^53"))
    return value


def _fraction(text: str) -> float:
    if isinf(value := float(text)):
        raise Unfit(say("numbers that a double can hold"))
    return value


def _constant(text: str) -> NoReturn:
    raise Unfit(say("numbers, not {text}", text=text))


_decoder = json.JSONDecoder(
    object_pairs_hook=_object,
    parse_int=_whole,
    parse_float=_fraction,
    parse_constant=_constant,
)


def value_of(text: str) -> Any:
    """Return the value that `text` is.

    :raises Unfit: for a key that stands twice, or a number that not all readers read alike.
    :raises ValueError: where it is no JSON.
    :raises RecursionError: where it is nested beyond what can be read.
    """
    return _decoder.decode(text)


def value_at(text: str, begin: int) -> tuple[Any, int]:
    """Return the value that begins at `begin` and where it ends; raises as `value_of` does."""
    return _decoder.raw_decode(text, begin)


def too_deep(raw: bytes, value: Any) -> bool:
    """Return whether `value`, read from `raw`, has more than `DEEPEST` levels."""
    return raw.count(b"{") + raw.count(b"[") > DEEPEST and _depth(value) > DEEPEST


def _depth(value: Any) -> int:
    if type(value) is dict:
        return 1 + max(map(_depth, value.values()), default=0)
    if type(value) is list:
        return 1 + max(map(_depth, value), default=0)
    return 0
