"""Corrections shown as corrections: what stood before, what stands now."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from fieldapp.journal.called import field_called
from fieldapp.journal.corrections import Version
from fieldapp.journal.happened import civil
from fieldapp.journal.record import Record
from fieldapp.papers.model import Change
from fieldapp.papers.names import Names, key_of
from fieldapp.words import Arg, Phrase, say


def is_slip(version: Version) -> bool:
    """Whether a record was taken back as a slip of the finger, during the round."""
    return version.void and version.holds.body.get("reason") == "slip"


def changes(versions: Iterable[Version], names: Names) -> tuple[Change, ...]:
    """Return every record corrected or voided, in order; slips are only counted elsewhere."""
    changed = [v for v in versions if v.corrections and not is_slip(v)]
    changed.sort(key=lambda version: key_of(version.holds))
    return tuple(_change(number, version, names) for number, version in enumerate(changed, 1))


def _change(number: int, version: Version, names: Names) -> Change:
    last = version.corrections[-1]
    holds = version.holds
    return Change(
        number=number,
        record=holds,
        what=holds.kind,
        where=names.hive(holds.hive, key_of(holds)) or names.apiary(holds.apiary),
        made=made_on(last),
        person=names.person(last.keeper),
        void=version.void,
        changed=tuple(_differences(version.root, holds, names)),
        open=len(version.open),
    )


def made_on(record: Record) -> date:
    """Return the civil date on which a record was written, by its writer's clock, in its zone."""
    moment = datetime.fromtimestamp(int(record.stamp[:12], 16) / 1000, UTC)
    zone = record.happened[record.happened.index("[") + 1 : -1]
    try:
        return moment.astimezone(ZoneInfo(zone)).date()
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return moment.date()


def _differences(root: Record, holds: Record, names: Names) -> Iterator[Phrase]:
    before, after = _flat(root, names), _flat(holds, names)
    for name in dict.fromkeys((*before, *after)):
        was, now = before.get(name), after.get(name)
        field = field_called(name, holds.kind)
        if was == now:
            continue
        if was is None:
            yield say("{field}: not said, now {now}", field=field, now=now or "")
        elif now is None:
            yield say("{field}: was {was}, now not said", field=field, was=was)
        else:
            yield say("{field}: was {was}, now {now}", field=field, was=was, now=now)


def _flat(record: Record, names: Names) -> dict[str, Arg]:
    """Return what a record says, field by field; ids of hives and people by name."""
    found: dict[str, Arg] = {
        "happened": say(
            "{day}, {time}", day=civil(record.happened), time=_time_and_offset(record.happened)
        ),
        "keeper": names.person(record.keeper) or record.keeper,
    }
    if record.apiary is not None:
        found["apiary"] = names.apiary(record.apiary) or record.apiary
    if record.hive is not None:
        found["hive"] = names.hive(record.hive, key_of(record)) or record.hive
    if record.colony is not None:
        found["colony"] = record.colony
    found.update(_flat_body(record.body, ""))
    return found


def _time_and_offset(happened: str) -> str:
    return happened[11:].partition("[")[0]


def _flat_body(body: Mapping[str, Any], above: str) -> Iterator[tuple[str, Arg]]:
    for field, value in body.items():
        name = f"{above}{field}"
        if isinstance(value, dict):
            yield from _flat_body(value, f"{name}.")
        elif isinstance(value, bool):
            yield name, say("yes") if value else say("no")
        elif isinstance(value, str | int | float):
            yield name, value
        else:
            yield name, json.dumps(value, ensure_ascii=False)
