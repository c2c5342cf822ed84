"""Due dates as iCalendar, read back by another parser (vobject) than the one that wrote them."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calendar import MORNING, calendar
from fieldapp.husbandry.answers import Line, Reason, Timing
from fieldapp.words import Speech, say

FERRY, QUARRY = (f"00000000-0000-7000-8000-00000000bbb{n}" for n in "12")
HIVES = tuple(f"00000000-0000-7000-8000-0000000000a{n}" for n in range(1, 7))
NUMBERS = {hive: str(number) for number, hive in enumerate(HIVES, 1)}
PLACES = {FERRY: "Ferry Lane", QUARRY: "Quarry Top"}
DAY = date(2026, 6, 14)
NOW = datetime(2026, 6, 14, 5, 30, tzinfo=UTC)


def line(
    first: date | None = None,
    target: date | None = None,
    last: date | None = None,
    timing: Timing = "due",
    task: str = "apply",
    apiary: str | None = FERRY,
    hives: tuple[str, ...] = HIVES,
) -> Line:
    why = (Reason(say("2 of 5 on {day}", day=date(2026, 6, 6)), (), "a label", "read"),)
    what = say("Second sponge")
    return Line(task, apiary, "GB/1/1/acid/drip", timing, first, target, last, hives, what, why)


def written(*lines: Line, day: date = DAY, **more: object) -> bytes:
    arguments = {"apiaries": PLACES, "numbers": NUMBERS, "speech": Speech(), "now": NOW}
    return calendar(lines, day, **{**arguments, **more})


def events(raw: bytes) -> list[vobject.base.Component]:
    return list(vobject.readOne(raw.decode()).contents.get("vevent", []))


def test_an_event_is_one_whole_civil_day_without_a_zone():
    """The target day as a DATE: whatever the zone of the phone, it stays that day."""
    raw = written(line(date(2026, 6, 15), date(2026, 6, 17), date(2026, 6, 20), "waiting"))
    (event,) = events(raw)
    assert (event.dtstart.value, event.dtend.value) == (date(2026, 6, 17), date(2026, 6, 18))
    assert b"DTSTART;VALUE=DATE:20260617\r\n" in raw
    assert b"TZID" not in raw


def test_an_event_says_what_where_when_and_why():
    """The same words in the same order as on the screen, with the caution."""
    (event,) = events(written(line(last=date(2026, 6, 11), timing="late")))
    assert event.summary.value == "Second sponge: Ferry Lane, 6 hives"
    assert event.location.value == "Ferry Lane"
    assert event.description.value.splitlines() == [
        "late by 3 days, since 11 Jun 2026",
        "hives 1, 2, 3, 4, 5, 6",
        "2 of 5 on 6 Jun 2026 (a label, read)",
        "The product's label, local rules and a veterinarian decide.",
    ]


@pytest.mark.parametrize(
    ("when", "stands_on"),
    [
        (line(target=date(2026, 6, 11), last=date(2026, 6, 16)), DAY),
        (line(last=date(2026, 6, 11), timing="late"), DAY),
        (line(target=date(2026, 6, 15), last=date(2026, 6, 16)), date(2026, 6, 15)),
        (line(first=date(2026, 7, 1), timing="waiting"), date(2026, 7, 1)),
    ],
    ids=["target passed", "late", "target tomorrow", "waiting"],
)
def test_what_is_due_or_late_stands_on_the_day_asked_at_the_earliest(when, stands_on):
    """An event in the past is one that nobody sees."""
    (event,) = events(written(when))
    assert event.dtstart.value == stands_on


def test_a_line_without_any_day_makes_no_event():
    """A question to the keeper is no appointment."""
    assert events(written(line(timing="ask"))) == []


def test_the_alarm_rings_in_the_morning_or_not_at_all():
    """So long after the day begins where the keeper is; none where none is wanted."""
    (event,) = events(written(line(target=DAY)))
    assert event.valarm.trigger.value == MORNING
    assert event.valarm.action.value == "DISPLAY"
    (silent,) = events(written(line(target=DAY), alarm=None))
    assert "valarm" not in silent.contents


def uids(raw: bytes) -> list[str]:
    return [event.uid.value for event in events(raw)]


@given(st.dates(date(2020, 1, 1), date(2030, 1, 1)), st.integers(0, 5), st.integers(1, 6))
def test_the_uid_stays_when_the_date_moves_and_the_hives_change(target, left, hives):
    """A correction, another day, fewer hives left: the same event, moved."""
    before = written(line(target=DAY))
    moved = line(target=target, hives=HIVES[left : left + hives])
    assert uids(before) == uids(written(moved, now=NOW + timedelta(days=40)))


def test_a_later_file_counts_as_newer():
    """SEQUENCE and DTSTAMP go up, so that a calendar takes the later one."""
    earlier, later = (
        events(written(line(target=DAY), now=NOW + timedelta(minutes=m)))[0] for m in (0, 1)
    )
    assert int(later.sequence.value) > int(earlier.sequence.value)
    assert later.dtstamp.value > earlier.dtstamp.value


def test_task_apiary_and_treatment_are_told_apart():
    """Each has a UID of its own; in one apiary two groups of hives too."""
    found = uids(
        written(
            line(target=DAY, hives=HIVES[:3]),
            line(target=DAY + timedelta(days=7), hives=HIVES[3:]),
            line(target=DAY, apiary=QUARRY),
            line(target=DAY, task="remove"),
            line(target=DAY, apiary=None, task="buy", hives=()),
        )
    )
    assert len(set(found)) == 5


def test_what_belongs_to_no_apiary_differs_between_operations():
    """Two operations in one calendar each have their own line *buy*."""
    buy = line(target=DAY, apiary=None, task="buy", hives=())
    other = {QUARRY: PLACES[QUARRY]}
    assert uids(written(buy)) != uids(written(buy, apiaries=other))


def test_the_order_of_lines_makes_no_difference():
    """Phone and server write the same bytes at the same moment."""
    lines = [
        line(target=DAY, hives=HIVES[:3]),
        line(target=DAY + timedelta(days=7), hives=HIVES[3:]),
        line(target=DAY, apiary=QUARRY),
    ]
    assert written(*lines) == written(*reversed(lines))


def test_events_that_are_gone_are_cancelled():
    """A calendar that was given an earlier file drops what is done."""
    earlier = uids(written(line(target=DAY), line(target=DAY, task="remove")))
    left = written(line(target=DAY), gone=earlier)
    status = {event.uid.value: event.status.value for event in events(left)}
    assert sorted(status) == sorted(earlier)
    assert sorted(status.values()) == ["CANCELLED", "CONFIRMED"]
    assert status[uids(written(line(target=DAY)))[0]] == "CONFIRMED"


@given(st.text(max_size=60))
def test_whatever_the_keeper_calls_a_place_the_file_stays_whole(name):
    """Commas, semicolons, line breaks, control signs: read back, and no line over 75 bytes."""
    raw = written(line(target=DAY), apiaries={FERRY: name})
    (event,) = events(raw)
    plain = "".join(sign if sign.isprintable() else " " for sign in name)
    assert event.summary.value.startswith("Second sponge: " + " ".join(plain.split()))
    assert all(len(each) <= 75 for each in raw.split(b"\r\n"))
