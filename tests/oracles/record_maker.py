"""Makes records for the oracle's tests and histories: right in form, invented in content."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from fieldapp.journal.kinds import KINDS
from fieldapp.journal.record import Record

WRITER = "0" * 31 + "1"


def made_id(number: int) -> str:
    """Return an id in the form of a UUIDv7 that is the higher the higher its number is."""
    return f"{number:08x}-0000-7000-8000-{number:012x}"


def happened(day: str, clock: str = "12:00:00", zone: str = "Europe/London") -> str:
    """Return a civil date and time in its zone, with the offset that holds there then."""
    local = datetime.fromisoformat(f"{day}T{clock}").replace(tzinfo=ZoneInfo(zone))
    return f"{local.isoformat()}[{zone}]"


class RecordMaker:
    """Writes one record after another; every one passes its kind's check, or ValueError."""

    def __init__(self, zone: str = "Europe/London", writer: str = WRITER, first: int = 1) -> None:
        self.records: list[Record] = []
        self.zone = zone
        self.writer = writer
        self._next = first

    def new_id(self) -> str:
        """Return an id that no record of this maker has."""
        self._next += 1
        return made_id(self._next - 1)

    def add(
        self,
        kind: str,
        day: str,
        hive: str | None = None,
        *,
        clock: str = "12:00:00",
        stamp: str | None = None,
        apiary: str | None = None,
        colony: str | None = None,
        corrects: str | None = None,
        adds_to: str | None = None,
        heads: tuple[str, ...] = (),
        void: bool = False,
        at: str | None = None,
        **body: Any,
    ) -> Record:
        """Write one record of `body`; `at` is `happened` whole instead of `day` and `clock`."""
        id_ = self.new_id()
        record = Record(
            id=id_,
            kind=kind,
            v=1,
            happened=at or happened(day, clock, self.zone),
            stamp=stamp or f"{self._next:016x}",
            writer=self.writer,
            seq=sum(other.writer == self.writer for other in self.records) + 1,
            keeper=made_id(9_000_000),
            body=body,
            apiary=apiary,
            hive=hive,
            colony=colony,
            corrects=corrects,
            adds_to=adds_to,
            heads=heads,
            void=void,
        )
        check(record)
        self.records.append(record)
        return record

    def correct(
        self,
        root: Record,
        *,
        heads: tuple[str, ...] = (),
        void: bool = False,
        day: str | None = None,
        clock: str = "12:00:00",
        hive: str | None = None,
        stamp: str | None = None,
        **changes: Any,
    ) -> Record:
        """Correct a record whole: another day, another hive, other entries, or void."""
        return self.add(
            root.kind,
            "",
            hive or root.hive,
            at=happened(day, clock, self.zone) if day else root.happened,
            stamp=stamp,
            apiary=root.apiary,
            colony=root.colony,
            corrects=root.id,
            heads=heads,
            void=void,
            **{**root.body, **changes},
        )

    def terms(
        self, treatment: str, form: str = "dose", published: bool = True, **values: Any
    ) -> str:
        """Write a treatment's terms with every value as read; return their id.

        A value given as a pair is (value, standing).
        """
        entries = {}
        for name, value in values.items():
            plain, standing = value if isinstance(value, tuple) else (value, "read")
            entries[name] = {"value": plain, "standing": standing, "source": "label"}
        record = self.add(
            "terms",
            "2020-01-01",
            treatment=treatment,
            name=treatment,
            active="invented",
            method="invented",
            form=form,
            published=published,
            values=entries,
            sources={"label": {"title": "Invented label", "issuer": "nobody", "year": 2020}},
        )
        return record.id


def check(record: Record) -> None:
    """Raise ValueError where the record does not fit the table of kinds."""
    kind = KINDS.get((record.kind, record.v))
    if kind is None:
        raise ValueError(f"no such kind: {record.kind}")
    if (unfit := kind.check(record.body)) is not None:
        raise ValueError(f"{record.kind}: {unfit.where}: {unfit.expected}")
    for name in kind.needs:
        if getattr(record, name) is None:
            raise ValueError(f"{record.kind}: needs {name}")
