"""The ledger's records in few words, on top of a season."""

from __future__ import annotations

from typing import Any

from rules_season import APIARY, HIVE, Season

from fieldapp.husbandry.ledger import Ledger, ledger
from fieldapp.journal.corrections import versions
from fieldapp.words.speech import Speech

OTHER_APIARY = "00000000-0000-7000-8000-00000000cccc"
spoken = Speech()


class LedgerSeason(Season):
    """A season with a shelf, gear and a register."""

    def buy(self, day: str, amount: float = 20, unit: str = "strip", **says: Any) -> str:
        body = {"product": "amitraz strips", "amount": amount, "unit": unit, **says}
        return self.add("bought", day, body, hive=None)

    def mix(self, day: str, amount: float, unit: str = "mL", **says: Any) -> str:
        body = {"recipe": "trickle 1", "amount": amount, "unit": unit, **says}
        return self.add("batch", day, body, hive=None)

    def dispose(self, lot: str, day: str, amount: float, unit: str = "strip", **says: Any) -> str:
        body = {"lot": lot, "amount": amount, "unit": unit, **says}
        return self.add("disposed", day, body, hive=None)

    def count_stock(self, lot: str, day: str, amount: float, unit: str = "strip") -> str:
        body = {"lot": lot, "amount": amount, "unit": unit}
        return self.add("on_hand", day, body, hive=None)

    def give(self, terms: str, day: str, lot: str, amount: float, **says: Any) -> str:
        """Apply strips of a lot to a hive."""
        hive = says.pop("hive", HIVE)
        unit = says.pop("unit", "strip")
        drawn = [{"lot": lot, "amount": amount, "unit": unit}]
        return self.apply(terms, day, hive, drawn=drawn, **says)

    def visit(self, day: str, standstill: str | None = None, **envelope: Any) -> str:
        body: dict[str, Any] = {"by": "bee inspector", "found": "brood healthy"}
        if standstill:
            body["standstill"] = standstill
        at = envelope.pop("at", "")
        return self.add(
            "visit", day, body, hive=None, at=at, apiary=envelope.pop("apiary", APIARY), **envelope
        )

    def stand(self, hive: str, day: str, apiary: str, **says: Any) -> str:
        """Say where a hive stands from now on."""
        number = says.pop("number", "1")
        return self.add("hive", day, {"number": number, **says}, hive=hive, apiary=apiary)

    def books(self) -> Ledger:
        """Keep the books of all records."""
        return ledger(versions(self.records).values())

    def said_gaps(self) -> list[str]:
        """The gaps of the books, by name and in words."""
        return [f"{gap.what}: {spoken(gap.phrase)}" for gap in self.books().gaps]
