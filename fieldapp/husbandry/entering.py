"""How a record that touches only the hive of its envelope enters that hive's log."""

from __future__ import annotations

from collections.abc import Callable

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.hivelog import ALWAYS, NEVER, Entry, HiveLog
from fieldapp.husbandry.state import Event, Look
from fieldapp.journal.record import Record

#: Kinds whose only place in the fold is the hive of their envelope.
PLAIN = frozenset({"application", "pieces", "course_stop", "colony", "death"})


def _entry(log: HiveLog, key: Key, record: Record) -> None:
    log.entries.append(Entry(key, record.kind, record))


def _look(log: HiveLog, key: Key, record: Record) -> None:
    brood = record.body.get("brood")
    if brood is not None:
        log.looks.append(Look(key, brood))
    if record.body.get("queen", "not seen") != "not seen" or record.body.get("eggs") == "yes":
        log.events.append(Event(key, "looked"))


def _count(log: HiveLog, key: Key, record: Record) -> None:
    log.events.append(Event(key, "count", record.body["way"]))


def _day_after(log: HiveLog, key: Key, record: Record) -> None:
    log.events.append(Event(key, "day after", record.body.get("application", "")))


def _board(log: HiveLog, key: Key, record: Record) -> None:
    log.events.append(Event(key, "board " + record.body["did"]))


def _queen(log: HiveLog, key: Key, record: Record) -> None:
    log.events.append(Event(key, record.body["did"]))


def _hive(log: HiveLog, key: Key, record: Record) -> None:
    log.attributes.append((key, record))


def from_where(record: Record, key: Key) -> Key:
    """Return from where on folding ends otherwise for a record that comes or goes."""
    if record.kind == "hive":
        return ALWAYS
    # A look goes along with the pieces that it judges.
    matters = record.kind not in QUICK or record.kind in PLAIN or record.kind == "look"
    return key if matters else NEVER


#: How a record that touches only the hive of its envelope enters that hive's log, by kind.
QUICK: dict[str, Callable[[HiveLog, Key, Record], None]] = {
    **dict.fromkeys(PLAIN, _entry),
    "look": _look,
    "count": _count,
    "day_after": _day_after,
    "board": _board,
    "queen": _queen,
    "hive": _hive,
}
