"""What a record says, and what is not understood."""

from __future__ import annotations

import json
from copy import deepcopy

import pytest
from hypothesis import given
from hypothesis import strategies as st
from journal_making import APIARY, HIVE, KEEPER, TERMS, TREATMENT, WHEN

from fieldapp.journal.reading import Seen, decode, seen
from fieldapp.journal.record import NotUnderstood, Record, encode
from fieldapp.words import Speech

GOOD = {
    "id": "0197d000-0000-7000-8000-0000000000aa",
    "kind": "application",
    "v": 1,
    "happened": WHEN,
    "stamp": "0197d00000000001",
    "writer": "ab" * 16,
    "seq": 1,
    "keeper": KEEPER,
    "apiary": APIARY,
    "hive": HIVE,
    "body": {"treatment": TREATMENT, "terms": TERMS, "seams": 6.5},
}
GONE = object()


def raw(**changes: object) -> bytes:
    value = {**deepcopy(GOOD), **changes}
    return as_written({k: v for k, v in value.items() if v is not GONE})


def as_written(value: dict) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def in_full(data: bytes) -> Record | NotUnderstood:
    """Judge `data` field by field, by a space that keeps it from being as it was written."""
    return decode(b" " + data)


def agrees(data: bytes) -> bool:
    """Return whether all ways of judging `data` say the same of it."""
    said = decode(data)
    return said == in_full(data) and seen(data) == Seen(said.id, said.stamp, type(said) is Record)


def correction(**changes: object) -> bytes:
    return raw(**{"corrects": GOOD["id"], "heads": [], "void": False, **changes})


def test_what_was_written_is_read() -> None:
    """Encode and decode agree, field by field, and the bytes are one line of UTF-8."""
    record = decode(raw())
    assert isinstance(record, Record)
    assert decode(encode(record)) == record
    assert b"\n" not in encode(record)
    assert record.day == "2026-07-04"


def test_a_correction_is_read() -> None:
    """A correction carries root, heads and void; without heads seen the list is empty."""
    record = decode(correction(heads=[HIVE], void=True))
    assert isinstance(record, Record)
    assert (record.corrects, record.heads, record.void) == (GOOD["id"], (HIVE,), True)
    assert decode(encode(record)) == record


def test_an_envelope_field_of_a_later_version_is_passed_over() -> None:
    """An unknown envelope field does not make a record unreadable."""
    assert decode(raw(later={"anything": [1]})) == decode(raw())


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        *(({name: GONE}, name) for name in Record._fields[:9]),
        ({"id": "0197d000-0000-4000-8000-0000000000aa"}, "id"),
        ({"id": GOOD["id"].upper()}, "id"),
        ({"id": None}, "id"),
        ({"kind": "no such kind"}, "kind"),
        ({"kind": ""}, "kind"),
        ({"kind": 1}, "kind"),
        ({"v": 2}, "kind"),
        ({"v": 0}, "v"),
        ({"v": True}, "v"),
        ({"v": 1.0}, "v"),
        ({"happened": "2026-07-04T08:30:00Z[Europe/London]"}, "happened"),
        ({"happened": "2026-07-04T08:30:00+01:00"}, "happened"),
        ({"happened": "2026-02-30T08:30:00+01:00[Europe/London]"}, "happened"),
        ({"happened": "2026-07-04T24:00:00+01:00[Europe/London]"}, "happened"),
        ({"happened": "2026-07-04 08:30:00+01:00[Europe/London]"}, "happened"),
        ({"happened": "2026-07-04T08:30:00-00:00[Europe/London]"}, "happened"),
        ({"happened": 1}, "happened"),
        ({"stamp": "f" * 16}, "stamp"),
        ({"stamp": "0197d0000000000"}, "stamp"),
        ({"stamp": 1234567890123456}, "stamp"),
        ({"writer": "AB" * 16}, "writer"),
        ({"seq": 0}, "seq"),
        ({"seq": "1"}, "seq"),
        ({"keeper": "me"}, "keeper"),
        ({"apiary": 7}, "apiary"),
        ({"hive": None}, "hive"),
        ({"hive": GONE}, "hive"),
        ({"colony": "x"}, "colony"),
        ({"adds_to": "x"}, "adds_to"),
        ({"heads": []}, "corrects"),
        ({"void": False}, "corrects"),
        ({"body": []}, "body"),
        ({"body": {**GOOD["body"], "later": 1}}, "body.later"),
        ({"body": {**GOOD["body"], "seams": 61}}, "body.seams"),
        ({"body": {**GOOD["body"], "dose": {"amount": 1}}}, "body.dose.unit"),
        ({"body": {"terms": TERMS}}, "body.treatment"),
    ],
)
def test_the_field_that_is_not_understood_is_named(changes: dict, field: str) -> None:
    """An envelope field missing or mistyped, an unknown kind, version or body says where."""
    said = decode(raw(**changes))
    assert isinstance(said, NotUnderstood)
    assert said.field == field
    assert said.expected
    assert agrees(raw(**changes))


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"corrects": "x"}, "corrects"),
        ({"heads": GONE}, "heads"),
        ({"heads": ["x"]}, "heads"),
        ({"heads": "x"}, "heads"),
        ({"void": GONE}, "void"),
        ({"void": 0}, "void"),
    ],
)
def test_a_correction_carries_all_three(changes: dict, field: str) -> None:
    """Root, heads and void stand together."""
    said = decode(correction(**changes))
    assert isinstance(said, NotUnderstood)
    assert said.field == field


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"", "one JSON object"),
        (b"\xff\xfe{}", "UTF-8"),
        (b"[1]", "one JSON object"),
        (b"{} {}", "one JSON object"),
        (b'{"a":1', "one JSON object"),
        (b'{"a":1,"a":1}', "each key once"),
        (b'{"a":{"b":1,"b":2}}', "each key once"),
        (b'{"a":[{"b":1,"b":2}]}', "each key once"),
        (b'{"a":NaN}', "numbers"),
        (b'{"a":-Infinity}', "numbers"),
        (b'{"a":1e999}', "double"),
        (b'{"a":9007199254740993}', "2^53"),
        (b'{"a":-9007199254740993}', "2^53"),
        (b'{"a":' + b"9" * 5000 + b"}", "2^53"),
        (b'{"a":' + b"[" * 32 + b"]" * 32 + b"}", "32 levels"),
        (b'{"a":' + b"[" * 100_000, "one JSON object"),
        (b'{"a":\n1}', "one JSON object on one line"),
        (rb'{"a":"\ud800"}', "text that UTF-8 can write"),
        (b"\xef\xbb\xbf{}", "one JSON object"),
    ],
)
def test_bytes_that_are_no_record_are_not_understood(data: bytes, expected: str) -> None:
    """Whatever arrives, reading it never raises and says what was expected."""
    said = decode(data)
    assert isinstance(said, NotUnderstood)
    assert expected in Speech()(said.expected)


@pytest.mark.parametrize("data", [rb'{"a":"\u00e4"}', b'{"a":9007199254740992}'])
def test_what_the_rules_of_json_allow_is_no_fault_of_the_bytes(data: bytes) -> None:
    """Escapes and whole numbers up to 2^53 pass; the envelope is judged next."""
    assert decode(data).field == "id"


def test_thirty_two_levels_are_understood() -> None:
    """Depth is counted with the outermost object."""
    inner: object = 1
    for _ in range(31):
        inner = [inner]
    assert isinstance(decode(raw(later=inner)), Record)
    assert Speech()(decode(raw(later=[inner])).expected) == "at most 32 levels"


def test_what_could_be_read_of_it_is_kept() -> None:
    """A record of a later kind still tells its id, kind and stamp."""
    said = decode(raw(kind="later kind"))
    assert said[2:] == (GOOD["id"], "later kind", GOOD["stamp"])
    assert decode(raw(stamp="f" * 16)).stamp is None


@given(st.binary(max_size=300))
def test_no_bytes_raise(data: bytes) -> None:
    """Any bytes are a record or not understood."""
    assert isinstance(decode(data), Record | NotUnderstood)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=8,
)


@given(
    name=st.sampled_from(sorted(GOOD)),
    value=json_values,
    at=st.integers(0, 600),
    put=st.binary(max_size=2) | st.sampled_from([b"{", b"}", b'"', b",", b"\\u00e4", b"1e999"]),
    cut=st.integers(0, 2),
)
def test_what_is_taken_as_written_would_be_taken_in_full(name, value, at, put, cut) -> None:
    """However the bytes are changed, reading them quickly and field by field is the same."""
    for data in (as_written(GOOD), as_written({**GOOD, name: value})):
        assert agrees(data)
        assert agrees(data[:at] + put + data[at + cut :])


@given(name=st.sampled_from(sorted(GOOD)), value=json_values)
def test_any_value_of_any_field_is_judged(name: str, value: object) -> None:
    """No value of a field raises; a name that is judged bad is that field's."""
    said = decode(json.dumps({**GOOD, name: value}).encode())
    if isinstance(said, NotUnderstood) and said.field:
        assert said.field.split(".")[0] in (name, "kind", "hive", "body")
