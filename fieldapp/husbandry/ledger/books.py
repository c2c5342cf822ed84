"""All books of an operation, made from its records."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from fieldapp.husbandry.ledger.facts import Facts, facts
from fieldapp.husbandry.ledger.gap import Gap
from fieldapp.husbandry.ledger.gear import Gear, gear
from fieldapp.husbandry.ledger.register import Register, register
from fieldapp.husbandry.ledger.stock import Lot, Stock, behind, stock
from fieldapp.journal.corrections import Version
from fieldapp.journal.record import Record


class Ledger(NamedTuple):
    """Stock, gear and register, and the records that they were made from."""

    facts: Facts
    stock: Stock
    gear: tuple[Gear, ...]
    register: Register
    hours: tuple[Gap, ...]

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """Every gap in the books; what a law wants besides is `required.missing`'s answer."""
        return (*self.stock.gaps, *self.hours, *self.register.gaps)

    def behind(self, application: Record) -> tuple[Lot, ...]:
        """Return the lots behind an application: those it drew on, and through its batch."""
        return behind(application, {lot.id: lot for lot in self.stock.lots})


def ledger(versions: Iterable[Version]) -> Ledger:
    """Keep the books of an operation from the versions of its records, in any order."""
    made = facts(versions)
    things, hours = gear(made)
    return Ledger(made, stock(made), things, register(made), hours)
