"""Moments, ids, stamps and the chain."""

from __future__ import annotations

import random
from datetime import date
from hashlib import sha256

import pytest
import uuid6
from hypothesis import given
from hypothesis import strategies as st
from journal_making import FINDER, WHEN, Device, note

from fieldapp.journal import chain, happened, ids, stamps
from fieldapp.journal.chain import Place, Vector
from fieldapp.journal.merging import sync

milliseconds = st.integers(0, 2**47)
ten_bytes = st.binary(min_size=10, max_size=10)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-07-04T23:50:10+01:00[Europe/London]", date(2026, 7, 4)),
        ("2026-07-04T23:50:10-11:00[Pacific/Pago_Pago]", date(2026, 7, 4)),
        ("2024-02-29T00:00:00+14:00[Pacific/Kiritimati]", date(2024, 2, 29)),
    ],
)
def test_the_civil_date_is_what_stands_there(text: str, day: date) -> None:
    """Whatever the offset, the first ten characters are the day."""
    assert happened.civil(text) == day


@pytest.mark.parametrize(
    ("us", "text"),
    [
        # Both sides of the hour that comes twice, in the zone database's rules for 2026.
        (1_792_888_200_000_000, "2026-10-25T01:30:00+01:00[Europe/London]"),
        (1_792_891_800_000_000, "2026-10-25T01:30:00+00:00[Europe/London]"),
        (1_774_747_800_000_000, "2026-03-29T02:30:00+01:00[Europe/London]"),
        (1_774_747_799_999_999, "2026-03-29T02:29:59+01:00[Europe/London]"),
    ],
)
def test_a_moment_is_written_in_the_zone_of_its_apiary(us: int, text: str) -> None:
    """Summer time both ways; parts of a second are left off, downwards."""
    assert happened.format(us, "Europe/London") == text
    assert happened.instant(text) == us // 1_000_000 * 1_000_000


@given(st.integers(-2_208_988_800, 4_102_444_800), st.sampled_from(["UTC", "Asia/Kathmandu"]))
def test_a_moment_is_read_as_it_was_written(seconds: int, zone: str) -> None:
    """From 1900 to 2100 what is written is understood and is the same instant."""
    text = happened.format(seconds * 1_000_000, zone)
    assert happened.understood(text)
    if seconds > 0:
        assert happened.instant(text) == seconds * 1_000_000


def test_order_is_day_then_instant_then_stamp_then_id(device) -> None:
    """A record of an earlier day comes first even where its instant is later."""
    journal = device().journal
    west = "2026-07-04T23:00:00-10:00[Pacific/Honolulu]"
    east = "2026-07-05T01:00:00+13:00[Pacific/Auckland]"
    later, earlier = journal.write([note()._replace(happened=h) for h in (east, west)])
    assert happened.instant(west) > happened.instant(east)
    assert happened.order_key(earlier) < happened.order_key(later)


def test_a_corrected_record_keeps_the_roots_place_in_the_order(device) -> None:
    """Stamp and id of the root decide, not those of the correction."""
    root, fix = device().journal.write([note(), note()])
    assert happened.order_key(fix, root)[2:] == (root.stamp, root.id)


@given(milliseconds, ten_bytes)
def test_ids_are_uuids_of_version_7(ms: int, entropy: bytes) -> None:
    """As another implementation reads them: version, variant, time."""
    other = uuid6.UUID(ids.uuid7(ms, entropy))
    assert (other.version, other.time) == (7, ms)
    assert ids.in_words(ids.in_bytes(str(other))) == str(other)


@given(st.lists(milliseconds, min_size=2, max_size=50))
def test_stamps_only_rise(times: list[int]) -> None:
    """Whatever the clock does, each stamp is above the one before, and understood."""
    last = stamps.NONE
    for ms in times:
        following = stamps.following(last, ms)
        assert following > last
        assert following >= f"{ms:012x}0000"
        assert stamps.understood(following)
        last = following


def test_the_counter_carries_into_the_milliseconds() -> None:
    """65536 records in a millisecond are no end."""
    assert stamps.following("0197d0000000ffff", 0) == "0197d00000010000"


@pytest.mark.parametrize("last", [stamps.HIGHEST, "efffffffffff0000"])
@pytest.mark.parametrize("ms", [0, 2**48 - 1, 2**60])
def test_a_broken_clock_blocks_nothing(last: str, ms: int) -> None:
    """At the end of time a stamp is still one that is understood."""
    assert stamps.understood(stamps.following(last, ms))


def test_stamps_rise_above_all_that_the_replica_holds(device) -> None:
    """A phone whose clock is years behind writes after what it was sent."""
    ahead, behind = device("ahead"), device("behind")
    ahead.clock.ms += 10**11
    (first,) = ahead.journal.write([note()])
    meet(behind, ahead)
    (second,) = behind.journal.write([note()])
    assert second.stamp > first.stamp


def meet(one: Device, other: Device) -> None:
    assert sync(one.journal, other.host, FINDER).equal


def test_the_digest_is_as_defined() -> None:
    """SHA-256 of the digest before and the bytes, from SHA-256 of the writer's 16 bytes."""
    writer = bytes(range(16))
    expected = sha256(sha256(sha256(writer).digest() + b"one").digest() + b"two").digest()
    assert list(chain.digests(chain.start(writer), [b"one", b"two"]))[-1] == expected


@given(st.sets(st.tuples(st.binary(min_size=16, max_size=16), st.integers(1, 2**40), ten_bytes)))
def test_a_vector_is_read_as_it_was_written(heads: set) -> None:
    """Its bytes do not depend on the order of the heads."""
    places = [Place(writer, seq, sha256(chance).digest()) for writer, seq, chance in heads]
    shuffled = random.Random(1).sample(places, len(places))
    assert Vector(places).encode() == Vector(shuffled).encode()
    assert Vector.decode(Vector(places).encode()) == set(places)


def test_half_a_vector_is_an_error() -> None:
    """A vector that was cut off is not taken for a smaller one."""
    data = Vector([Place(b"w" * 16, 1, b"d" * 32)]).encode()
    with pytest.raises(ValueError, match="56 bytes a head"):
        Vector.decode(data[:-1])


def test_when_is_a_moment() -> None:
    """The moment that these tests use is understood."""
    assert happened.understood(WHEN)
