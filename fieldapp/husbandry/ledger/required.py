"""What laws want kept, counted, done or reported, as far as it was read; no legal advice.

Each law carries its row in docs/sources.md. Where no law of a country is known here, nothing
is asked: that is not to say that there is none.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.countries import EU
from fieldapp.husbandry.ledger.books import Ledger
from fieldapp.husbandry.ledger.gap import Gap
from fieldapp.journal.record import Record
from fieldapp.words import Phrase, count

#: Years for which records of medicines are kept (rows F1 and F5).
YEARS_KEPT = 5
#: New South Wales: more mites in a wash than this, and all hives are treated (row B33).
NSW_MITES = 6
#: New South Wales: days within which they are (row B33).
NSW_DAYS = 14
#: New South Wales: days within which each apiary is counted again, 16 weeks (row B17).
NSW_COUNT_DAYS = 16 * 7


class Law(NamedTuple):
    """A text that wants something: what it is called, how it is known, its row in the sources."""

    source: str
    standing: str
    row: str

    def reason(self, phrase: Phrase, records: tuple[str, ...] = ()) -> Reason:
        """Return a reason that rests on this text."""
        return Reason(phrase, records, self.source, self.standing)


EU_RECORDS = Law("Regulation (EU) 2019/6, Article 108", "read", "F1")
UK_RECORDS = Law("VMD, texts on keeping records, 2006 and 2007", "reported", "F5")
NSW_TREAT = Law("AHBIC, Update 51, December 2023", "read", "B33")
NSW_COUNT = Law("AHBIC, Update 51, December 2023", "read", "B17")
NSW_REPORT = Law("AHBIC, Update 51, December 2023", "read", "F15")

#: What each law wants of a purchase, and of what was disposed of.
_WANTED: dict[Law, dict[str, tuple[str, ...]]] = {
    EU_RECORDS: {"bought": ("supplier", "address", "proof")},
    UK_RECORDS: {"bought": ("lot", "supplier", "address"), "disposed": ("how", "where")},
}
_FIELDS = {
    "lot": lambda n: count(
        "{n} purchase without its lot number", "{n} purchases without their lot numbers", n
    ),
    "supplier": lambda n: count(
        "{n} purchase without its supplier", "{n} purchases without their suppliers", n
    ),
    "address": lambda n: count(
        "{n} purchase without the supplier's address",
        "{n} purchases without the suppliers' addresses",
        n,
    ),
    "proof": lambda n: count(
        "{n} purchase without a proof of it", "{n} purchases without a proof of them", n
    ),
    "how": lambda n: count(
        "{n} disposal that does not say how", "{n} disposals that do not say how", n
    ),
    "where": lambda n: count(
        "{n} disposal that does not say where", "{n} disposals that do not say where", n
    ),
}


def laws(countries: Iterable[str]) -> tuple[Law, ...]:
    """Return the laws on keeping records that are known here for apiaries in `countries`."""
    named = set(countries)
    eu = [EU_RECORDS] if any(country[:2] in EU for country in named) else []
    uk = [UK_RECORDS] if any(country[:2] == "GB" for country in named) else []
    return (*eu, *uk)


def kept_from(day: date) -> date:
    """Return the first day of the years for which records are kept, asked on `day`."""
    year = day.year - YEARS_KEPT
    try:
        return day.replace(year=year)
    except ValueError:  # 29 February
        return day.replace(year=year, day=28)


def fields_of(kind: str, wanted: Iterable[Law]) -> tuple[str, ...]:
    """Return the fields of a kind of record that the laws `wanted` ask for, each once."""
    return tuple(dict.fromkeys(name for law in wanted for name in _WANTED[law].get(kind, ())))


def missing(
    ledger: Ledger, day: date, wanted: Iterable[Law], among: Container[str] | None = None
) -> list[Gap]:
    """Return what purchases and disposals of the years kept lack of what the laws `wanted` ask.

    `among` are the root ids looked at, of lots or of these records, None for all.
    """
    since = kept_from(day).toordinal()
    fields = dict.fromkeys(
        (kind, name) for law in wanted for kind, names in _WANTED[law].items() for name in names
    )
    gaps = []
    for kind, name in fields:
        lacking = tuple(
            fact.id
            for fact in ledger.facts.kind(kind)
            if since <= fact.day <= day.toordinal()
            and name not in fact.record.body
            and (among is None or fact.id in among or fact.record.body.get("lot") in among)
        )
        if lacking:
            gaps.append(Gap("missing", _FIELDS[name](len(lacking)), lacking))
    return gaps


def without_lot(ledger: Ledger, applications: Iterable[str]) -> list[Gap]:
    """Return the gap that these applications (root ids) name no lot in stock, if any do not."""
    drawing = {d.record for lot in ledger.stock.lots for d in lot.drawn if d.by == "application"}
    lacking = tuple(root for root in applications if root not in drawing)
    if not lacking:
        return []
    said = count(
        "{n} treatment that names no lot in stock",
        "{n} treatments that name no lot in stock",
        len(lacking),
    )
    return [Gap("no lot", said, lacking)]


def without_amount(applications: Iterable[Record]) -> list[Gap]:
    """Return the gap that these applications say no amount, if any do not."""
    told = ("dose", "pieces", "drawn", "strokes")
    lacking = tuple(r.id for r in applications if not any(name in r.body for name in told))
    if not lacking:
        return []
    said = count(
        "{n} treatment without the amount given",
        "{n} treatments without the amount given",
        len(lacking),
    )
    return [Gap("missing", said, lacking)]
