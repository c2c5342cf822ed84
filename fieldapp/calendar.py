"""Due dates as iCalendar (RFC 5545): the same file from the phone and from the server.

An event keeps its UID when its date moves, and has the same on phone and server, because the
UID is made from what the event is about and not from when it is: a calendar that takes in a
later file moves the event instead of showing it twice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple
from uuid import UUID, uuid5

from icalendar import Alarm, Calendar, Event

from fieldapp.book.book import Book
from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.spoken import spoken
from fieldapp.words import Phrase, Speech, count, say

#: When the alarm of an all-day event rings: so long after the day begins, where the keeper is.
MORNING = timedelta(hours=7)

_SPACE = UUID("7d0c8f0e-5a0f-4f0b-9a75-0c7a3f6d1b52")
_MINUTE = 60


class Due(NamedTuple):
    """One event to be: its UID, the civil day on which it stands, and the line it is made from."""

    uid: str
    day: date
    line: Line


def dated(lines: Iterable[Line], day: date, apiaries: Iterable[str]) -> list[Due]:
    """Return the events of an agenda as it was asked for on `day`, the nearest first.

    An event stands on the line's target, or where it has none on the first day that it names; one
    that is due or late stands on `day` at the earliest, or nobody would see it. A line without
    any day makes no event. `apiaries` are the ids of the operation's apiaries.
    """
    # What belongs to no apiary is told apart from that of another operation in the same calendar.
    operation = min(apiaries, default="")
    alike: defaultdict[tuple[str, str, str], list[tuple[date, Line]]] = defaultdict(list)
    for line in lines:
        when = line.target or line.first or line.last
        if when is not None:
            about = (line.task, line.apiary or operation, line.treatment or "")
            alike[about].append((when, line))
    found = []
    for about, group in alike.items():
        group.sort(key=lambda each: (each[0], each[1].hives))
        for place, (when, line) in enumerate(group):
            uid = str(uuid5(_SPACE, "\n".join((*about, str(place)))))
            found.append(Due(uid, when if line.timing == "waiting" else max(when, day), line))
    return sorted(found, key=lambda due: (due.day, due.uid))


def calendar(
    lines: Iterable[Line],
    day: date,
    *,
    apiaries: Mapping[str, str],
    numbers: Mapping[str, str],
    speech: Speech,
    now: datetime,
    alarm: timedelta | None = MORNING,
    gone: Iterable[str] = (),
) -> bytes:
    """Return an agenda as an iCalendar file: one all-day event a line, in civil days.

    `apiaries` are the names of the operation's by id, `numbers` the hives' by id; `now` is an
    aware moment, a later file's events replace an earlier's. `alarm` is counted from the
    beginning of the day, None for none. `gone` are UIDs of an earlier file:
    those that no line makes any more are cancelled, so that a calendar which was given that
    file drops them.

    Positions of apiaries are left out: calendars are shared, and hives are stolen.
    """
    made = dated(lines, day, apiaries)
    whole = Calendar()
    whole.add("prodid", "-//Apiary Rounds//EN")
    whole.add("version", "2.0")
    whole.add("method", "PUBLISH")
    whole.add("name", "Apiary Rounds")
    whole.add("x-wr-calname", "Apiary Rounds")
    whole.add("refresh-interval", timedelta(hours=6), parameters={"value": "DURATION"})
    for due in made:
        event = _event(due.uid, due.day, now)
        said = spoken(due.line, apiaries, day)
        title = say("{what}: {where}", what=said.what, where=said.where)
        summary = _plain(speech(title if due.line.apiary or due.line.hives else said.what))
        event.add("summary", summary)
        lines_of_text = [
            speech(said.when),
            *_hives(due.line, numbers, speech),
            *map(speech, said.why),
            speech(say("The product's label, local rules and a veterinarian decide.")),
        ]
        event.add("description", "\n".join(map(_plain, lines_of_text)))
        if place := apiaries.get(due.line.apiary or ""):
            event.add("location", _plain(place))
        event.add("status", "CONFIRMED")
        if alarm is not None:
            event.add_component(_alarm(alarm, summary))
        whole.add_component(event)
    for uid in sorted(set(gone) - {due.uid for due in made}):
        event = _event(uid, day, now)
        event.add("summary", _plain(speech(say("No longer due"))))
        event.add("status", "CANCELLED")
        whole.add_component(event)
    raw: bytes = whole.to_ical()
    return raw


def of_book(
    book: Book, day: date, *, speech: Speech, now: datetime, alarm: timedelta | None
) -> bytes:
    """Return the agenda of a book as an iCalendar file."""
    places = book.apiaries(day)
    stops = [stop for place in places for stop in book.walk(place.id, day)]
    return calendar(
        book.agenda(day),
        day,
        apiaries={place.id: place.name for place in places},
        numbers={stop.hive: stop.number for stop in stops},
        speech=speech,
        now=now,
        alarm=alarm,
    )


def _event(uid: str, day: date, now: datetime) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", now.astimezone(UTC))
    # Made later is newer: no device keeps count of what it gave out before.
    event.add("sequence", int(now.timestamp()) // _MINUTE)
    event.add("dtstart", day)
    event.add("dtend", day + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    return event


def _alarm(after: timedelta, text: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", text)
    alarm.add("trigger", after)
    return alarm


def _hives(line: Line, numbers: Mapping[str, str], speech: Speech) -> Sequence[str]:
    named = [numbers[hive] for hive in line.hives if hive in numbers]
    if not named:
        return ()
    said: Phrase = count("hive {list}", "hives {list}", len(named), list=", ".join(named))
    return (speech(said),)


def _plain(text: str) -> str:
    """Return a keeper's words without what a calendar file cannot hold."""
    kept = (sign if sign.isprintable() else " " for sign in text)
    return " ".join("".join(kept).split())
