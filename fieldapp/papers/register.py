"""The dated lines of a record book besides treatments: counts, movements, visits, periods."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from fieldapp.husbandry.amounts import measured, number_of
from fieldapp.husbandry.ledger import Movement
from fieldapp.husbandry.vocabulary import BEES, DAYS, MITES, word
from fieldapp.journal.record import Record
from fieldapp.papers.model import Event
from fieldapp.papers.names import Names, key_of
from fieldapp.words import Phrase, count, say


def event(record: Record, names: Names) -> Event:
    """Return the line of a count, a visit, a colony's coming or going, or a period entered."""
    what, words = _SAID[record.kind]
    return Event(
        date.fromisoformat(record.day),
        names.apiary(names.apiary_of(record)),
        names.hive(record.hive, key_of(record)),
        what,
        words(record, names),
        names.person(record.keeper),
        record.id,
    )


def moved(movement: Movement, names: Names, person: str) -> Event:
    """Return the line of a hive that came, was moved or went."""
    to, origin = names.apiary(movement.to), names.apiary(movement.origin)
    if movement.to is None:
        what = say("Hive gone")
        words = say("{why}", why=word(movement.ended))
        if movement.to_whom:
            words = say("{gone}, to {whom}", gone=words, whom=movement.to_whom)
    elif movement.origin is None:
        what, words = say("Hive came"), say("first stands at {apiary}", apiary=to)
    else:
        what = say("Hive moved")
        words = say("from {origin} to {apiary}", origin=origin, apiary=to)
    return Event(movement.day, to or origin, movement.number, what, words, person, movement.record)


def _count(record: Record, _: Names) -> Phrase:
    body = record.body
    mites = number_of(body["mites"], MITES)
    if body["way"] == "drop":
        days = number_of(float(body["days"]), DAYS) if "days" in body else say("days not known")
        return say("drop: {mites} in {days}", mites=mites, days=days)
    bees = number_of(float(body["bees"]), BEES) if "bees" in body else say("bees not counted")
    if body["way"] == "wash":
        return say("wash: {mites}, {bees}", mites=mites, bees=bees)
    return say("roll: {mites}, {bees}", mites=mites, bees=bees)


def _visit(record: Record, _: Names) -> Phrase:
    body = record.body
    found = say(
        "{who}: {found}", who=body["by"], found=word(body.get("found", "")) or say("no findings")
    )
    if body.get("standstill") == "set":
        return say("{visit}. Standstill set.", visit=found)
    if body.get("standstill") == "lifted":
        return say("{visit}. Standstill lifted.", visit=found)
    return found


def _colonies(record: Record, _: Names) -> Phrase:
    body = record.body
    colonies = measured(body["number"], "colony")
    whom = body.get("reported_to")
    if whom:
        return say("{colonies}, reported to {whom}", colonies=colonies, whom=whom)
    return colonies


def _death(record: Record, _: Names) -> Phrase:
    return say("{cause}", cause=word(record.body.get("cause", "")) or say("cause not known"))


def _colony(record: Record, _: Names) -> Phrase:
    body = record.body
    if "supplier" in body:
        return say("{origin}, from {whom}", origin=word(body["origin"]), whom=body["supplier"])
    return say("{origin}", origin=word(body["origin"]))


def _to(record: Record, names: Names) -> Phrase:
    to = record.body.get("to_hive")
    if to is None:
        return say("gone")
    return say("to hive {number}", number=names.hive(to, key_of(record)))


def _united(record: Record, names: Names) -> Phrase:
    number = names.hive(record.body["from_hive"], key_of(record))
    return say("with the colony of hive {number}", number=number)


def _reported(record: Record, _: Names) -> Phrase:
    body = record.body
    said = count(
        "{n} record, to {whom}", "{n} records, to {whom}", len(body["records"]), whom=body["to"]
    )
    if "reference" in body:
        return say("{reported}, {reference}", reported=said, reference=body["reference"])
    return said


def _period(record: Record, names: Names) -> Phrase:
    body: Mapping[str, Any] = record.body
    given = body["given_by"]
    parts = [given["who"], given.get("name"), given.get("document"), given.get("day")]
    period = body["period"]
    if period["form"] != "days":
        length = say("until next season's supers")
    elif "days" in period:
        length = number_of(period["days"], DAYS)
    else:
        length = say("not known")
    return say(
        "{treatment}: {period}; by {who}",
        treatment=names.treatment(body["treatment"]),
        period=length,
        who=", ".join(part for part in parts if part),
    )


_Said = Callable[[Record, Names], Phrase]
_SAID: Mapping[str, tuple[Phrase, _Said]] = {
    "count": (say("Count"), _count),
    "visit": (say("Visit"), _visit),
    "colony_count": (say("Colonies counted"), _colonies),
    "death": (say("Colony dead"), _death),
    "colony": (say("Colony came"), _colony),
    "split": (say("Split"), _to),
    "swarm": (say("Swarm left"), _to),
    "transfer": (say("Moved to other boxes"), _to),
    "unite": (say("United"), _united),
    "reported": (say("Reported"), _reported),
    "period": (say("Period for honey entered"), _period),
}

#: Kinds of record that stand in the register.
REGISTER = frozenset(_SAID) - {"count", "period"}


def events(records: Iterable[Record], names: Names) -> tuple[Event, ...]:
    """Return the lines of records that hold, in order."""
    return tuple(event(record, names) for record in sorted(records, key=key_of))


def together(lines: Iterable[Event]) -> list[tuple[Event, tuple[str, ...]]]:
    """Return lines in their order, those that say the same of several hives on a day as one.

    Beside each stand the numbers of its hives, none where it is of none.
    """
    found: dict[Event, list[str]] = {}
    for each in lines:
        hives = found.setdefault(each._replace(hive="", record=""), [])
        if each.hive:
            hives.append(each.hive)
    return [(line, tuple(hives)) for line, hives in found.items()]
