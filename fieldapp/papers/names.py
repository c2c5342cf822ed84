"""What hives, apiaries and people are called, on the day that a record tells of."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from fieldapp.husbandry.days import Key, order_key
from fieldapp.husbandry.ledger.facts import Facts
from fieldapp.husbandry.ledger.movements import Places
from fieldapp.journal.corrections import Version
from fieldapp.journal.record import Record


def key_of(record: Record) -> Key:
    """Return the place of a record, in its root's form, among the others."""
    return order_key(record.happened, record.stamp, record.id)


class Names:
    """Looks names up; an empty text where nobody gave one."""

    def __init__(self, facts: Facts, versions: Iterable[Version]) -> None:
        self.places = Places(facts)
        self._same = facts.same
        self._apiaries = {self.apiary_id(f.record.apiary): f.record for f in facts.kind("apiary")}
        self._treatments = {
            fact.record.body["treatment"]: fact.record.body["name"] for fact in facts.kind("terms")
        }
        people: defaultdict[str, list[Record]] = defaultdict(list)
        for version in versions:
            record = version.holds
            if record.kind == "keeper" and not record.void:
                people[self._same.of("keeper", record.keeper)].append(record)
        self._people = {name: max(records, key=key_of) for name, records in people.items()}

    def apiary_id(self, apiary: str | None) -> str:
        """Return the id that stands for an apiary."""
        return self._same.of("apiary", apiary) if apiary else ""

    def apiary(self, apiary: str | None) -> str:
        """Return an apiary's name."""
        record = self._apiaries.get(self.apiary_id(apiary))
        return str(record.body["name"]) if record is not None else ""

    def apiary_of(self, record: Record) -> str:
        """Return the id of the apiary of a record: as it says, else where its hive stood then."""
        if record.apiary:
            return self.apiary_id(record.apiary)
        return (record.hive and self.places.apiary(record.hive, key_of(record))) or ""

    def hive(self, hive: str | None, key: Key) -> str:
        """Return a hive's number as it was at `key`; its first one where it had none yet."""
        facts = self.places.hives.get(self._same.of("hive", hive), []) if hive else []
        before = [fact for fact in facts if fact.key <= key]
        fact = before[-1] if before else facts[0] if facts else None
        return str(fact.record.body["number"]) if fact is not None else ""

    def person(self, keeper: str) -> str:
        """Return a person's name."""
        record = self._people.get(self._same.of("keeper", keeper))
        return str(record.body["name"]) if record is not None else ""

    def treatment(self, identity: str) -> str:
        """Return a treatment's name as last recorded; its identity where no terms are here."""
        return str(self._treatments.get(identity, identity))

    def people(self) -> tuple[str, ...]:
        """Return every person's name, sorted."""
        return tuple(sorted({str(record.body["name"]) for record in self._people.values()}))
