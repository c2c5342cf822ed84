"""A purchase being written down, or put right: product, lot, last day, supplier, proof."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from fieldapp.book import Entry
from fieldapp.husbandry.vocabulary import word
from fieldapp.journal.record import Record
from fieldapp.rounds.choosing import TreatmentChoice, treatments
from fieldapp.rounds.desk_form import (
    BookForm,
    Dated,
    Measured,
    Question,
    Written,
)
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, say

#: In what stock is kept: by mass, by volume, or counted under the name on the packet.
UNITS: tuple[str, ...] = (
    *("strip", "tray", "tablet", "pad", "piece"),
    *("g", "kg", "mL", "L", "oz", "lb"),
)
#: Currencies by the country where they are paid, ISO 4217.
_CURRENCIES = {
    **dict.fromkeys(("GB",), "GBP"),
    **dict.fromkeys(("IE", "DE", "AT", "FR"), "EUR"),
    "CH": "CHF",
    "HU": "HUF",
    "US": "USD",
    "CA": "CAD",
    "AU": "AUD",
    "NZ": "NZD",
}
#: Former answers that are offered to tap.
_OFFERED = 6
#: Years ahead for which a packet may be good.
_GOOD_YEARS = 8


class Purchase(BookForm):
    """A purchase; a `Form`. What was said of earlier ones is offered, never taken for granted."""

    kind = "bought"

    def __init__(self, notebook: Notebook, entry: Entry | None = None) -> None:
        super().__init__(notebook, "purchase", entry=entry)
        self._known = treatments(notebook, notebook.country)
        self._before = purchases(notebook)

    @property
    def title(self) -> Phrase:
        """What is asked."""
        return say("A purchase") if self.entry is None else say("A purchase: put right")

    @property
    def questions(self) -> Sequence[Question]:
        """Product and amount first, then what the record book wants, then what it cost."""
        today = self._notebook.today()
        return (
            Choice("treatment", say("For which treatment"), _named(self._known)),
            Written("product", say("Product"), 120, self._products(), needed=True),
            Measured("amount", say("How much"), self.values.get("unit", ""), 1e6, needed=True),
            Choice("unit", say("Kept in"), self._units(), needed=True),
            Written("lot", say("Lot number"), 60),
            Dated("expiry", say("Last day"), today.year - 1, today.year + _GOOD_YEARS, ends=True),
            Written("supplier", say("Supplier"), 120, self._former("supplier")),
            Written("address", say("Supplier's address"), 200, self._former("address")),
            self.day_asked(say("Bought on")),
            Written("proof", say("Proof: number of the invoice"), 200),
            Written("prescription", say("Prescription, and who wrote it"), 200),
            Measured("price", say("Price"), self.values.get("currency", ""), 1e6),
            *(
                (Choice("currency", say("Paid in"), self._currencies()),)
                if "price" in self.values
                else ()
            ),
        )

    @property
    def remarks(self) -> Sequence[Told]:
        """Say what an open last day means."""
        if "expiry" in self.values:
            return ()
        return (Told("unknown", say("Without its last day nobody can warn you before it is over")),)

    def take(self, name: str, value: Any) -> None:
        """Take an answer, and what follows from it where nothing else was said."""
        super().take(name, value)
        if name == "treatment" and value is not None and "product" not in self.values:
            super().take("product", self._name_of(value)[:120])
        if name == "supplier" and value is not None and "address" not in self.values:
            address = self._address_of(value)
            if address:
                super().take("address", address)
        if name == "price" and value is not None and "currency" not in self.values:
            currency = _CURRENCIES.get((self._notebook.country or "")[:2])
            if currency:
                super().take("currency", currency)

    def _name_of(self, treatment: str) -> str:
        return next((each.name for each in self._known if each.identity == treatment), treatment)

    def _products(self) -> tuple[str, ...]:
        treatment = self.values.get("treatment")
        named = [self._name_of(treatment)] if treatment else []
        return _each_once([*named, *self._former("product")])

    def _former(self, field: str) -> tuple[str, ...]:
        return _each_once(each.body[field] for each in self._before if field in each.body)

    def _address_of(self, supplier: str) -> str:
        found = (
            str(each.body["address"])
            for each in self._before
            if each.body.get("supplier") == supplier and "address" in each.body
        )
        return next(found, "")

    def _units(self) -> tuple[tuple[str, Phrase | str], ...]:
        """Return the units; those used before first, for most keepers buy the same again."""
        used = _each_once(each.body["unit"] for each in self._before)
        return tuple((unit, word(unit)) for unit in dict.fromkeys((*used, *UNITS)))

    def _currencies(self) -> tuple[tuple[str, Phrase | str], ...]:
        here = _CURRENCIES.get((self._notebook.country or "")[:2], "")
        known = dict.fromkeys((here, *_CURRENCIES.values()))
        return tuple((each, each) for each in known if each)


def purchases(notebook: Notebook) -> list[Record]:
    """Return the purchases as they hold, the latest first."""
    facts = notebook.shelf.ledger().facts.kind("bought")
    return [fact.record for fact in reversed(facts)]


def _named(known: Iterable[TreatmentChoice]) -> tuple[tuple[str, Phrase | str], ...]:
    return tuple((each.identity, each.name) for each in known)


def _each_once(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(values))[:_OFFERED]
