"""A season with everything that a record book shows, and the book made from it."""

from __future__ import annotations

from datetime import date

from ledger_season import OTHER_APIARY, LedgerSeason
from rules_season import APIARY, HIVE, KEEPER, OTHER

from fieldapp.journal.chain import Place
from fieldapp.papers import RecordBook, Source, record_book
from fieldapp.words import Speech

DAY = date(2026, 3, 1)
HEAD = Place(b"w" * 16, 12, b"d" * 32)
said = Speech()


class PaperSeason(LedgerSeason):
    """One keeper, two apiaries; strips bought, given, taken out."""

    def __init__(self) -> None:
        super().__init__()
        body = {"name": "Quarry Top", "country": "GB"}
        self.add("apiary", "2020-01-01", body, hive=None, apiary=OTHER_APIARY)
        self.add("keeper", "2020-01-01", {"name": "Keeper"}, hive=None)

    def source(self) -> Source:
        return Source(tuple(self.records), (HEAD,))

    def book(self, day: date = DAY, apiary: str | None = None) -> RecordBook:
        return record_book(self.source(), day, apiary)


def strips(season: PaperSeason, lot: bool = True) -> str:
    """Two strips of lot 22 in two hives on 1 August, out on 12 September; 14 days of withdrawal."""
    terms = season.terms(
        form="pieces", supers="off", stay=[{"when": "any", "least": 42, "most": 42}], period=14
    )
    bought = season.buy(
        "2025-07-01",
        20,
        lot="22",
        expiry="2027-01-31",
        supplier="a dealer",
        address="1 High Street",
        proof="invoice 7",
        prescription="vet A, 3",
    )
    more = {"pieces": 2, "supers": "off", "temperature": 18}
    for hive in (HIVE, OTHER):
        if lot:
            season.give(terms, "2025-08-01", bought, 2, hive=hive, **more)
        else:
            season.apply(terms, "2025-08-01", hive, **more)
        season.pieces("out", terms, "2025-09-12", 2, hive=hive)
    return terms


__all__ = ["APIARY", "DAY", "HEAD", "HIVE", "KEEPER", "OTHER", "PaperSeason", "said", "strips"]
