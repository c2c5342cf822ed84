"""Judging bytes: the record that they say, or why they are not understood."""

from __future__ import annotations

import json
import re
from typing import Any, NamedTuple

from fieldapp.journal import happened, stamps, strict
from fieldapp.journal.fields import HEX_WRITER, MISSING, UUID
from fieldapp.journal.kinds import KINDS
from fieldapp.journal.record import NAMES, NotUnderstood, Record
from fieldapp.words import Phrase, say

_UUID7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
_REF = say("an id: a UUID in lowercase")
_ONE_OBJECT = say("one JSON object on one line")
#: Where `_WRITTEN` has each of them.
_PLACE = {name: group for group, name in enumerate(NAMES, 9)}


class Seen(NamedTuple):
    """What taking a record in needs of it: its id and stamp where they can be read."""

    id: str | None
    stamp: str | None
    understood: bool


def seen(raw: bytes) -> Seen:
    """Return what `decode` would say of `raw`, judged by the same checks, in half the time.

    A record that is taken in is not used yet, so it is not made.
    """
    read = _read(raw)
    if isinstance(read, NotUnderstood):
        return Seen(read.id, read.stamp, False)
    if (written := read[0]) is not None:
        return Seen(written[1], written[5], True)
    return Seen(read[1]["id"], read[1]["stamp"], True)


def decode(raw: bytes) -> Record | NotUnderstood:
    """Return what `raw` says, or why it is not understood. Never raises.

    An envelope field of a later version that is not known here is passed over (and kept in
    the bytes); a field of the body that is not known makes the record not understood.
    """
    read = _read(raw)
    if isinstance(read, NotUnderstood):
        return read
    written, value = read
    if written is not None:
        record_id, name, v, when, stamp, writer, seq, keeper, *refs = written.groups()
        apiary, hive, colony, adds_to = refs
        return Record(
            record_id,
            name,
            int(v),
            when,
            stamp,
            writer,
            int(seq),
            keeper,
            value,
            apiary,
            hive,
            colony,
            None,
            (),
            False,
            adds_to,
        )
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


#: The envelope as it was written with the body, or no match and the whole object.
_Read = tuple[re.Match[str] | None, dict[str, Any]]


def _read(raw: bytes) -> _Read | NotUnderstood:
    """Return what `raw` holds, every check passed, or why it is not understood."""
    try:
        text = raw.decode()
        written = _WRITTEN.match(text)
        if written is not None and (body := _body_as_written(raw, text, written)) is not None:
            return written, body
        value = strict.value_of(text)
    except strict.Unfit as unfit:
        return NotUnderstood("", unfit.phrase)
    except (ValueError, RecursionError) as wrong:
        utf8 = not isinstance(wrong, UnicodeDecodeError)
        return NotUnderstood("", _ONE_OBJECT if utf8 else say("UTF-8"))
    if type(value) is not dict or b"\n" in raw:
        return NotUnderstood("", _ONE_OBJECT)
    if (amiss := _of_bytes(raw, value) or _of_envelope(value)) is not None:
        return _not_understood(value, *amiss)
    return None, value


def _body_as_written(raw: bytes, text: str, written: re.Match[str]) -> dict[str, Any] | None:
    """Return the body where `raw` stands exactly as `encode` writes what is no correction.

    Nearly every record does. One look at the whole envelope takes half the time of a look at
    each field, which is what taking records in and reading a journal spend most on. None says
    nothing: whatever is not taken here is judged field by field.

    :raises ValueError: where the body is no JSON, or none that a record may hold.
    """
    # One character is looked for many times faster than two.
    if b"\n" in raw or (b"\\" in raw and b"\\u" in raw):
        return None
    name, v, when = written.group(2, 3, 4)
    kind = KINDS.get((name, int(v)))
    if kind is None or not happened.is_moment(when):
        return None
    for need in kind.needs:
        if written[_PLACE[need]] is None:
            return None
    body: dict[str, Any]
    body, end = strict.value_at(text, written.end())
    # No body that its kind takes is deeper than a record may be.
    if text[end:] != "}" or kind.check(body) is not None:
        return None
    return body


_Amiss = tuple[str, Phrase]


def _of_bytes(raw: bytes, value: dict[str, Any]) -> _Amiss | None:
    """Return what makes these bytes unfit although they are JSON: depth, half characters."""
    if strict.too_deep(raw, value):
        return ("", say("at most {n} levels", n=strict.DEEPEST))
    if b"\\u" in raw:
        try:
            json.dumps(value, ensure_ascii=False).encode()
        except UnicodeEncodeError:
            return ("", say("text that UTF-8 can write"))
    return None


def _of_envelope(value: dict[str, Any]) -> _Amiss | None:
    """Return the field of the envelope or body that does not fit, and what would."""
    for name, fits, expected in _REQUIRED:
        if name not in value:
            return (name, MISSING)
        if not fits(value[name]):
            return (name, expected)
    for name in NAMES:
        if name in value and not _is_ref(value[name]):
            return (name, _REF)
    return _of_correction(value) or _of_kind(value)


def _of_kind(value: dict[str, Any]) -> _Amiss | None:
    kind = KINDS.get((value["kind"], value["v"]))
    if kind is None:
        return ("kind", say("a kind and version that this program knows"))
    for name in kind.needs:
        if name not in value:
            return (name, MISSING)
    if (unfit := kind.check(value["body"])) is not None:
        return (f"body.{unfit.where}" if unfit.where else "body", unfit.expected)
    return None


def _of_correction(value: dict[str, Any]) -> _Amiss | None:
    if "corrects" not in value:
        if "heads" in value or "void" in value:
            return ("corrects", MISSING)
        return None
    if not _is_ref(value["corrects"]):
        return ("corrects", _REF)
    heads = value.get("heads")
    if type(heads) is not list or not all(map(_is_ref, heads)):
        return ("heads", say("a list of ids"))
    if type(value.get("void")) is not bool:
        return ("void", say("true or false"))
    return None


def _not_understood(value: dict[str, Any], field: str, expected: Phrase) -> NotUnderstood:
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


_REF_PATTERN = f"({UUID.pattern})"
_WRITTEN = re.compile(
    rf'{{"id":"({_UUID7.pattern})","kind":"([a-z_]+)","v":([1-9]\d{{0,14}}),'
    rf'"happened":"({happened.FORM.pattern})","stamp":"({stamps.FORM.pattern})",'
    rf'"writer":"({HEX_WRITER.pattern})","seq":([1-9]\d{{0,14}}),"keeper":"{_REF_PATTERN}",'
    + "".join(f'(?:"{name}":"{_REF_PATTERN}",)?' for name in NAMES)
    + r'"body":(?={)',
    re.ASCII,
)

_REQUIRED = (
    ("id", _is_uuid7, say("an id: a UUID of version 7 in lowercase")),
    ("kind", _is_text, say("the name of a kind")),
    ("v", _is_count, say("a whole number from 1")),
    ("happened", happened.understood, happened.EXPECTED),
    ("stamp", stamps.understood, say("16 lowercase hex digits that do not begin with f")),
    ("writer", _is_writer, say("a writer: 32 lowercase hex digits")),
    ("seq", _is_count, say("a whole number from 1")),
    ("keeper", _is_ref, _REF),
    ("body", _is_object, say("an object")),
)
