"""Which hives a record touches, and what it is there: the index from records to hives."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from fieldapp.husbandry.days import Key, order_key, ordinal, season_of
from fieldapp.husbandry.entering import PLAIN, QUICK
from fieldapp.husbandry.hivelog import Entry, Harvested, HiveLog, Side
from fieldapp.husbandry.superevents import SuperEvent
from fieldapp.journal.record import Record

#: Kinds that join hives: the body's entry that names the other hive, and what each end sees
#: (source, receiver); a unite's source is the hive in the body.
_LINKS = {
    "split": ("to_hive", "split", "part"),
    "transfer": ("to_hive", "transfer", "moved in"),
    "swarm": ("to_hive", "swarm", "swarm in"),
    "unite": ("from_hive", "leaves", "joined"),
}
_SUPERS = {"super_on": "on", "super_off": "off", "super_carried": "away"}
_HIVE_REFS = ("to_hive", "from_hive", "of_hive")


def hives_named(record: Record) -> set[str]:
    """Return the hives that a record names, as it names them."""
    body = record.body
    names = {record.hive} if record.hive else set()
    for entry in _HIVE_REFS:
        if entry in body:
            names.add(body[entry])
    if record.kind == "harvest":
        names |= {take["hive"] for take in body["takes"]}
    return names


def marks_named(record: Record) -> list[str]:
    """Return the marks of supers that a record names."""
    body = record.body
    marks: list[str] = [*body.get("supers_along", ())]
    if "mark" in body:
        marks.append(body["mark"])
    if record.kind == "harvest":
        marks += [take["mark"] for take in body["takes"] if "mark" in take]
    return marks


class Placed(NamedTuple):
    """What one root puts where: hives touched and marks touched."""

    hives: set[str]
    marks: set[str]


def place(
    versions: Sequence[Record],
    same: Callable[[str], str],
    log: Callable[[str], HiveLog],
    marked: Callable[[str], list[SuperEvent]],
) -> Placed:
    """Put a root's versions side by side (the one that holds last) into the logs.

    `same` gives the id that stands for a hive. Returns the hives and marks touched.
    """
    record = versions[-1]
    if len(versions) == 1:
        if record.void:
            return Placed(set(), set())
        return _put(record, None, same, log, marked)
    kind = record.kind
    placed = Placed(set(), set())
    if kind == "harvest":
        for each in versions:
            if not each.void:
                _gather(placed, _put(each, None, same, log, marked))
        return placed
    if kind in _SUPERS or kind in ("super_emptied", "comb_up"):
        sure = _sure_on(versions)
        for index, each in enumerate(reversed(versions)):
            if not each.void:
                side = Side(record.id, index, len(versions))
                _gather(placed, _put_super(each, same, log, marked, side, each is sure))
        return placed
    if kind in PLAIN or kind in _LINKS:
        for index, each in enumerate(reversed(versions)):
            if not each.void:
                side = Side(record.id, index, len(versions))
                _gather(placed, _put(each, side, same, log, marked))
        return placed
    if not record.void:
        _gather(placed, _put(record, None, same, log, marked))
    return placed


def _gather(placed: Placed, more: Placed) -> None:
    placed.hives.update(more.hives)
    placed.marks.update(more.marks)


def _sure_on(versions: Sequence[Record]) -> Record | None:
    """Return the last of the versions if all let a super go on one hive in one season."""
    hives = {None if v.void else v.body.get("to_hive", v.hive) for v in versions}
    if len(hives) > 1 or versions[-1].kind not in ("super_on", "super_carried"):
        return None
    days = [ordinal(version.happened) for version in versions]
    if any(len({season_of(day, south) for day in days}) > 1 for south in (False, True)):
        return None
    return max(versions, key=lambda v: order_key(v.happened, v.stamp, v.id))


def _put(
    record: Record,
    side: Side | None,
    same: Callable[[str], str],
    log: Callable[[str], HiveLog],
    marked: Callable[[str], list[SuperEvent]],
) -> Placed:
    kind = record.kind
    key = order_key(record.happened, record.stamp, record.id)
    hive = "" if record.hive is None else same(record.hive)
    if kind in _LINKS:
        return _put_link(record, key, side, same, log, marked)
    if kind == "harvest":
        return _put_harvest(record, key, same, log, marked)
    if kind in _SUPERS or kind in ("super_emptied", "comb_up"):
        return _put_super(record, same, log, marked)
    if not hive:
        return Placed(set(), set())
    there = log(hive)
    there.mixed = True
    if side is not None:
        there.entries.append(Entry(key, kind, record, side))
    else:
        QUICK[kind](there, key, record)
    return Placed({hive}, set())


#: Every kind that touches single hives.
OF_HIVES = frozenset({*QUICK, *_LINKS, *_SUPERS, "super_emptied", "comb_up", "harvest"})


def _put_harvest(
    record: Record,
    key: Key,
    same: Callable[[str], str],
    log: Callable[[str], HiveLog],
    marked: Callable[[str], list[SuperEvent]],
) -> Placed:
    placed = Placed(set(), set())
    lot = record.body["lot"]
    for take in record.body["takes"]:
        of, mark = same(take["hive"]), take.get("mark", "")
        there = log(of)
        there.harvests.append(Harvested(key, lot, mark))
        there.mixed = True
        placed.hives.add(of)
        if mark:
            marked(mark).append(SuperEvent(key, "drawn", mark, of, None, "", record.id))
            placed.marks.add(mark)
    return placed


def _put_link(
    record: Record,
    key: Key,
    side: Side | None,
    same: Callable[[str], str],
    log: Callable[[str], HiveLog],
    marked: Callable[[str], list[SuperEvent]],
) -> Placed:
    entry, gives, takes = _LINKS[record.kind]
    here, other = same(record.hive or ""), record.body.get(entry)
    source, receiver = here, same(other) if other else ""
    if record.kind == "unite":
        source, receiver = receiver, here
    if source == receiver:
        log(source).inert.append((key,))
        return Placed({source}, set())
    logs = log(source)
    logs.entries.append(Entry(key, gives, record, side, receiver))
    logs.mixed = True
    touched = {source}
    marks: set[str] = set()
    if receiver:
        logs = log(receiver)
        logs.entries.append(Entry(key, takes, record, side, source))
        logs.mixed = True
        touched.add(receiver)
        for mark in record.body.get("supers_along", ()):
            marks.add(mark)
            came = SuperEvent(key, "came", mark, receiver, 1, source, record.id, sure=False)
            log(source).supers.append(came._replace(what="away", hive=source, other=receiver))
            logs.supers.append(came)
            marked(mark).append(came)
    return Placed(touched, marks)


def _put_super(
    record: Record,
    same: Callable[[str], str],
    log: Callable[[str], HiveLog],
    marked: Callable[[str], list[SuperEvent]],
    side: Side | None = None,
    sure: bool = True,
) -> Placed:
    body, kind = record.body, record.kind
    key = order_key(record.happened, record.stamp, record.id)
    hive = "" if record.hive is None else same(record.hive)
    mark = body.get("mark", "")
    what = _SUPERS.get(kind) or ("emptied" if kind == "super_emptied" else "comb up")
    other = body.get("of_hive") or body.get("to_hive") or ""
    other = same(other) if other else ""
    event = SuperEvent(key, what, mark, hive, body.get("count"), other, record.id, sure)
    if side is not None:
        event = event._replace(place=side.place, of=side.of)
    touched: set[str] = set()
    if hive:
        logs = log(hive)
        logs.supers.append(event)
        logs.mixed = True
        touched.add(hive)
    if kind == "super_carried":
        came = event._replace(what="came", hive=other, other=hive)
        logs = log(other)
        logs.supers.append(came)
        logs.mixed = True
        touched.add(other)
        if mark:
            marked(mark).append(came)
    elif mark:
        marked(mark).append(event)
    if kind == "super_on" and other and other != hive:
        # The lot that it came from tells the hive that borrowed it when it changes.
        logs = log(other)
        logs.supers.append(event)
        logs.mixed = True
        touched.add(other)
    return Placed(touched, {mark} if mark else set())
