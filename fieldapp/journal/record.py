"""One record: what it says, and the exact bytes that say it."""

from __future__ import annotations

import json
import re
from math import isinf
from typing import Any, Final, NamedTuple, NoReturn

from fieldapp.journal import happened, stamps
from fieldapp.journal.fields import HEX_WRITER, UUID
from fieldapp.journal.kinds import KINDS

#: A record over this many bytes is refused by every replica.
MOST_BYTES: Final = 65536

_DEEPEST = 32
_LARGEST_WHOLE = 2**53
_LONGEST_WHOLE = len(str(_LARGEST_WHOLE)) + 1
_UUID7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
_REF = "an id: a UUID in lowercase"
_MISSING = "this field, which is missing"
_NAMES = ("apiary", "hive", "colony", "adds_to")


class Record(NamedTuple):
    """One immutable entry of the journal, decoded.

    `happened` is RFC 9557 text whose first ten characters are the civil date; `stamp` is the
    hybrid logical clock (16 hex digits); `writer` and `seq` say where it was first written.
    A correction has `corrects` (the root's id) and `heads` (the ids that its author saw); an
    annex has `adds_to` (the root's id).
    """

    id: str
    kind: str
    v: int
    happened: str
    stamp: str
    writer: str
    seq: int
    keeper: str
    body: dict[str, Any]
    apiary: str | None = None
    hive: str | None = None
    colony: str | None = None
    corrects: str | None = None
    heads: tuple[str, ...] = ()
    void: bool = False
    adds_to: str | None = None

    @property
    def day(self) -> str:
        """The civil date, ``2026-07-04``, never recomputed from the instant."""
        return self.happened[:10]


class Draft(NamedTuple):
    """What a use case wants written: a record without id, stamp, writer and seq.

    `id` may be given where another draft of the same transaction must name it.
    """

    kind: str
    happened: str
    keeper: str
    body: dict[str, Any]
    v: int = 1
    apiary: str | None = None
    hive: str | None = None
    colony: str | None = None
    corrects: str | None = None
    heads: tuple[str, ...] = ()
    void: bool = False
    adds_to: str | None = None
    id: str | None = None


class NotUnderstood(NamedTuple):
    """A record that takes part in no rule, and why. It is stored, passed on and shown.

    `field` is where, empty for the whole; `expected` is what would have been understood.
    `id`, `kind` and `stamp` are given where they could be read.
    """

    field: str
    expected: str
    id: str | None = None
    kind: str | None = None
    stamp: str | None = None


def encode(record: Record) -> bytes:
    """Return the bytes of a record that is about to be written for the first time.

    Whatever comes after keeps these bytes; nothing encodes a record again. A field that is
    None is left out.

    :raises ValueError: for a number that JSON cannot write.
    """
    envelope: dict[str, Any] = {
        "id": record.id,
        "kind": record.kind,
        "v": record.v,
        "happened": record.happened,
        "stamp": record.stamp,
        "writer": record.writer,
        "seq": record.seq,
        "keeper": record.keeper,
    }
    for name in _NAMES:
        if (value := getattr(record, name)) is not None:
            envelope[name] = value
    if record.corrects is not None:
        envelope["corrects"] = record.corrects
        envelope["heads"] = list(record.heads)
        envelope["void"] = record.void
    envelope["body"] = record.body
    return json.dumps(envelope, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()


def decode(raw: bytes) -> Record | NotUnderstood:
    """Return what `raw` says, or why it is not understood. Never raises.

    An envelope field of a later version that is not known here is passed over (and kept in
    the bytes); a field of the body that is not known makes the record not understood.
    """
    try:
        value = _loads(raw.decode())
    except _Unfit as unfit:
        return NotUnderstood("", str(unfit))
    except UnicodeDecodeError:
        return NotUnderstood("", "UTF-8")
    except (ValueError, RecursionError):
        return NotUnderstood("", "one JSON object on one line")
    if type(value) is not dict or b"\n" in raw:
        return NotUnderstood("", "one JSON object on one line")
    if (amiss := _of_bytes(raw, value) or _of_envelope(value)) is not None:
        return _not_understood(value, *amiss)
    get = value.get
    return Record(
        value["id"],
        value["kind"],
        value["v"],
        value["happened"],
        value["stamp"],
        value["writer"],
        value["seq"],
        value["keeper"],
        value["body"],
        get("apiary"),
        get("hive"),
        get("colony"),
        get("corrects"),
        tuple(get("heads", ())),
        get("void", False),
        get("adds_to"),
    )


_Amiss = tuple[str, str]


def _of_bytes(raw: bytes, value: dict[str, Any]) -> _Amiss | None:
    """Return what makes these bytes unfit although they are JSON: depth, half characters."""
    if raw.count(b"{") + raw.count(b"[") > _DEEPEST and _depth(value) > _DEEPEST:
        return ("", f"at most {_DEEPEST} levels")
    if b"\\u" in raw:
        try:
            json.dumps(value, ensure_ascii=False).encode()
        except UnicodeEncodeError:
            return ("", "text that UTF-8 can write")
    return None


def _of_envelope(value: dict[str, Any]) -> _Amiss | None:
    """Return the field of the envelope or body that does not fit, and what would."""
    if not _at_a_glance(value):
        for name, fits, expected in _REQUIRED:
            if name not in value:
                return (name, _MISSING)
            if not fits(value[name]):
                return (name, expected)
    for name in _NAMES:
        if name in value and not _is_ref(value[name]):
            return (name, _REF)
    return _of_correction(value) or _of_kind(value)


def _at_a_glance(value: dict[str, Any]) -> bool:
    """Return True only where every required field fits; nearly every record does.

    One look at all texts together takes a third of the time of a look at each, which is what
    reading a journal of some 100,000 records spends most on.
    """
    try:
        texts = " ".join(
            (value["id"], value["stamp"], value["writer"], value["keeper"], value["happened"])
        )
        return (
            _GLANCE.fullmatch(texts) is not None
            and happened.is_moment(value["happened"])
            and _is_text(value["kind"])
            and _is_count(value["v"])
            and _is_count(value["seq"])
            and type(value["body"]) is dict
        )
    except (KeyError, TypeError):
        return False


def _of_kind(value: dict[str, Any]) -> _Amiss | None:
    kind = KINDS.get((value["kind"], value["v"]))
    if kind is None:
        return ("kind", "a kind and version that this program knows")
    for name in kind.needs:
        if name not in value:
            return (name, _MISSING)
    if (unfit := kind.check(value["body"])) is not None:
        return (f"body.{unfit.where}" if unfit.where else "body", unfit.expected)
    return None


def _of_correction(value: dict[str, Any]) -> _Amiss | None:
    if "corrects" not in value:
        if "heads" in value or "void" in value:
            return ("corrects", _MISSING)
        return None
    if not _is_ref(value["corrects"]):
        return ("corrects", _REF)
    heads = value.get("heads")
    if type(heads) is not list or not all(map(_is_ref, heads)):
        return ("heads", "a list of ids")
    if type(value.get("void")) is not bool:
        return ("void", "true or false")
    return None


def _not_understood(value: dict[str, Any], field: str, expected: str) -> NotUnderstood:
    named, kind, stamp = value.get("id"), value.get("kind"), value.get("stamp")
    return NotUnderstood(
        field,
        expected,
        named if _is_uuid7(named) else None,
        kind if type(kind) is str else None,
        stamp if stamps.understood(stamp) else None,
    )


def _is_ref(value: Any) -> bool:
    return type(value) is str and UUID.fullmatch(value) is not None


def _is_uuid7(value: Any) -> bool:
    return type(value) is str and _UUID7.fullmatch(value) is not None


def _is_writer(value: Any) -> bool:
    return type(value) is str and HEX_WRITER.fullmatch(value) is not None


def _is_text(value: Any) -> bool:
    return type(value) is str and value != ""


def _is_count(value: Any) -> bool:
    return type(value) is int and value > 0


def _is_object(value: Any) -> bool:
    return type(value) is dict


_GLANCE = re.compile(
    " ".join(form.pattern for form in (_UUID7, stamps.FORM, HEX_WRITER, UUID, happened.FORM)),
    re.ASCII,
)

_REQUIRED = (
    ("id", _is_uuid7, "an id: a UUID of version 7 in lowercase"),
    ("kind", _is_text, "the name of a kind"),
    ("v", _is_count, "a whole number from 1"),
    ("happened", happened.understood, happened.EXPECTED),
    ("stamp", stamps.understood, "16 lowercase hex digits that do not begin with f"),
    ("writer", _is_writer, "a writer: 32 lowercase hex digits"),
    ("seq", _is_count, "a whole number from 1"),
    ("keeper", _is_ref, _REF),
    ("body", _is_object, "an object"),
)


class _Unfit(ValueError):
    """Something that JSON readers let through and a record may not hold."""


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    value = dict(pairs)
    if len(value) != len(pairs):
        raise _Unfit("each key once")
    return value


def _whole(text: str) -> int:
    if len(text) > _LONGEST_WHOLE or not -_LARGEST_WHOLE <= (value := int(text)) <= _LARGEST_WHOLE:
        raise _Unfit("whole numbers up to 2^53")
    return value


def _fraction(text: str) -> float:
    if isinf(value := float(text)):
        raise _Unfit("numbers that a double can hold")
    return value


def _constant(text: str) -> NoReturn:
    raise _Unfit(f"numbers, not {text}")


_loads = json.JSONDecoder(
    object_pairs_hook=_object,
    parse_int=_whole,
    parse_float=_fraction,
    parse_constant=_constant,
).decode


def _depth(value: Any) -> int:
    if type(value) is dict:
        return 1 + max(map(_depth, value.values()), default=0)
    if type(value) is list:
        return 1 + max(map(_depth, value), default=0)
    return 0
