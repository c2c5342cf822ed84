"""A season written record by record, in few words, for the tests of the rules."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.state import Course, Exposure, HiveState
from fieldapp.journal.kinds import KINDS
from fieldapp.journal.record import Record

KEEPER = "00000000-0000-7000-8000-00000000aaaa"
APIARY = "00000000-0000-7000-8000-00000000bbbb"


def name(number: int) -> str:
    """Return an id by a number, in ascending order."""
    return f"00000000-0000-7000-8000-{number:012x}"


HIVE, OTHER, THIRD = name(0xA1), name(0xA2), name(0xA3)


class Season:
    """Writes records one after another; times default to 10:00, one minute apart."""

    def __init__(self, zone: str = "Europe/London", lat: float | None = 52.0) -> None:
        self.records: list[Record] = []
        self.zone = zone
        self._number = 0x1000
        self._treatments: dict[str, str] = {}
        body: dict[str, Any] = {"name": "Ferry Lane", "country": "GB"}
        if lat is not None:
            body["lat"] = lat
        self.add("apiary", "2020-01-01", body, hive=None, apiary=APIARY)
        for number, hive in enumerate((HIVE, OTHER, THIRD), 1):
            self.add("hive", "2020-01-01", {"number": str(number)}, hive=hive, apiary=APIARY)

    def add(
        self,
        kind: str,
        day: str,
        body: dict[str, Any] | None = None,
        hive: str | None = HIVE,
        at: str = "",
        zone: str | None = None,
        **envelope: Any,
    ) -> str:
        """Write a record of a kind and return its id."""
        self._number += 1
        record = Record(
            id=name(self._number),
            kind=kind,
            v=1,
            happened=self.moment(day, at, zone),
            stamp=f"{self._number:016x}",
            writer="0" * 32,
            seq=self._number,
            keeper=KEEPER,
            body=body or {},
            hive=hive,
            **envelope,
        )
        unfit = KINDS[kind, 1].check(record.body)
        assert unfit is None, (kind, unfit)
        self.records.append(record)
        return record.id

    def moment(self, day: str, at: str = "", zone: str | None = None) -> str:
        """Return a moment of the day as records have it."""
        zone = zone or self.zone
        when = datetime.fromisoformat(f"{day}T{at or '10:00:00'}").replace(tzinfo=ZoneInfo(zone))
        if not at:
            when += timedelta(seconds=self._number % 3600)
        return f"{when.isoformat()}[{zone}]"

    def correct(self, root: str, heads: tuple[str, ...] = (), **changes: Any) -> str:
        """Correct a record: `day`, `body`, `hive` or `void`; the rest stays as it was."""
        self._number += 1
        old = next(record for record in self.records if record.id == root)
        day = changes.pop("day", None)
        happened = self.moment(day) if day else old.happened
        new = old._replace(
            id=name(self._number),
            stamp=f"{self._number:016x}",
            seq=self._number,
            happened=happened,
            corrects=root,
            heads=heads,
            **changes,
        )
        self.records.append(new)
        return new.id

    def terms(self, treatment: str = "GB/1/1/acid/drip", **says: Any) -> str:
        """Write terms that say what is given, each value as *read*; `standing` for another."""
        form = says.pop("form", "dose")
        published = says.pop("published", True)
        standing = says.pop("standing", "read")
        period = says.get("period", 0)
        if isinstance(period, int):
            says["period"] = {"form": "days", "days": period}
        says = {key: value for key, value in says.items() if value is not None}
        body = {
            "treatment": treatment,
            "name": treatment,
            "active": "acid",
            "method": "drip",
            "country": "GB",
            "form": form,
            "published": published,
            "values": {
                key: {"value": value, "standing": standing, "source": "label"}
                for key, value in says.items()
            },
            "sources": {"label": {"title": "A label", "issuer": "An issuer", "year": 2024}},
        }
        root = self.add("terms", "2020-01-02", body, hive=None)
        self._treatments[root] = treatment
        return root

    def treatment(self, terms: str) -> str:
        """Return the identity of the treatment that terms are of."""
        return self._treatments[terms]

    def apply(self, terms: str, day: str, hive: str = HIVE, at: str = "", **body: Any) -> str:
        """Give a treatment to a hive."""
        treatment = self.treatment(terms)
        return self.add(
            "application", day, {"treatment": treatment, "terms": terms, **body}, hive, at
        )

    def pieces(
        self,
        did: str,
        terms: str,
        day: str,
        count: int,
        hive: str = HIVE,
        at: str = "",
        **body: Any,
    ) -> str:
        """Move pieces, take them out, lose, find or replace them."""
        treatment = self.treatment(terms)
        return self.add(
            "pieces", day, {"did": did, "count": count, "treatment": treatment, **body}, hive, at
        )

    def plan(self, terms: str, number: int, ground: str = "common practice", **gap: int) -> str:
        """Plan other days than the label."""
        body = {
            "treatment": self.treatment(terms),
            "number": number,
            "gap": gap,
            "ground": ground,
        }
        return self.add("plan", "2020-01-03", body, hive=None)

    def period(self, terms: str, days: int, who: str = "label in hand", **given: Any) -> str:
        """Enter a withdrawal period and who gave it."""
        on = given.pop("hive", None)
        day = given.pop("on", "2020-01-04")
        body = {
            "treatment": self.treatment(terms),
            "period": {"form": "days", "days": days},
            "given_by": {"who": who, "document": "line 4", **given},
        }
        return self.add("period", day, body, hive=on)

    def state(self, hive: str = HIVE) -> HiveState:
        """Fold all records and return the state of a hive."""
        operation = Operation()
        operation.take(self.records)
        return operation.state(hive)

    def course(self, hive: str = HIVE) -> Course:
        """Return the last course of a hive."""
        return self.state(hive).courses[-1]

    def exposure(self, hive: str = HIVE) -> Exposure:
        """Return the last exposure of a hive."""
        return self.state(hive).exposures[-1]
