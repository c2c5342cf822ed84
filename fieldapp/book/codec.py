"""States as JSON and back: named tuples of plain values, by their annotations.

A checksum stands before the JSON, so that a value altered on the disk is told from another.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable, Mapping
from functools import cache
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints
from zlib import crc32

T = TypeVar("T")

_PLAIN = (str, int, float, bool, NoneType)
_Thaw = Callable[[Any], Any]
_SUM = 8


class Damaged(ValueError):
    """What was kept is not what was written: it is to be made anew from the journal."""


def frozen(value: Any) -> str:
    """Return a value made of named tuples, tuples, mappings and plain values as text."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return _sum(text) + text


def _sum(text: str) -> str:
    return f"{crc32(text.encode()):0{_SUM}x}"


def thawed(kind: type[T], text: str) -> T:
    """Return the value of a kind that `frozen` made into text.

    :raises Damaged: where the text is not that.
    """
    told, text = text[:_SUM], text[_SUM:]
    if _sum(text) != told:
        raise Damaged(text[:40])
    try:
        made: T = _thaw(cast(Hashable, kind))(json.loads(text))
    except (ValueError, TypeError, AttributeError, LookupError) as error:
        raise Damaged(text[:40]) from error
    return made


@cache
def _thaw(kind: Any) -> _Thaw:
    """Return what makes a value of a kind from decoded JSON."""
    if kind in _PLAIN or kind is Any:
        return _same
    origin, args = get_origin(kind), get_args(kind)
    if origin is tuple:
        return _tuple(args)
    if origin in (Union, UnionType):
        return _optional([arg for arg in args if arg is not NoneType])
    if origin is not None and issubclass(origin, Mapping):
        inner = _thaw(args[1])
        return lambda value: {key: inner(item) for key, item in value.items()}
    hints = get_type_hints(kind)
    fields = [_thaw(hints[name]) for name in kind._fields]
    if all(field is _same for field in fields):
        return lambda value: kind(*value)
    return lambda value: kind(*[thaw(item) for thaw, item in zip(fields, value, strict=True)])


def _same(value: Any) -> Any:
    return value


def _tuple(args: tuple[Any, ...]) -> _Thaw:
    if len(args) == 2 and args[1] is Ellipsis:
        inner = _thaw(args[0])
        if inner is _same:
            return tuple
        return lambda value: tuple([inner(item) for item in value])
    parts = [_thaw(arg) for arg in args]
    if all(part is _same for part in parts):
        return tuple
    return lambda value: tuple(thaw(item) for thaw, item in zip(parts, value, strict=True))


def _optional(args: list[Any]) -> _Thaw:
    thaws = [_thaw(arg) for arg in args]
    if all(thaw is _same for thaw in thaws):
        return _same
    inner = thaws[0]
    return lambda value: None if value is None else inner(value)
