"""The ledger: what was bought, mixed, used and disposed of; gear; what the law wants kept.

Pure functions of records after corrections, like all of husbandry. `ledger` keeps the books,
`agenda_lines` says what they ask of the keeper on a day.
"""

from fieldapp.husbandry.ledger.books import Ledger, ledger
from fieldapp.husbandry.ledger.due import COUNTED, COUNTED_WITHIN, Apiary, agenda_lines
from fieldapp.husbandry.ledger.facts import KINDS, Facts, facts, reads
from fieldapp.husbandry.ledger.gap import Gap
from fieldapp.husbandry.ledger.gear import Gear
from fieldapp.husbandry.ledger.movements import Movement
from fieldapp.husbandry.ledger.needs import Need, needs, treated
from fieldapp.husbandry.ledger.register import Premises, Register
from fieldapp.husbandry.ledger.standstill import Blocked
from fieldapp.husbandry.ledger.stock import Lot, Stock

__all__ = [
    "COUNTED",
    "COUNTED_WITHIN",
    "KINDS",
    "Apiary",
    "Blocked",
    "Facts",
    "Gap",
    "Gear",
    "Ledger",
    "Lot",
    "Movement",
    "Need",
    "Premises",
    "Register",
    "Stock",
    "agenda_lines",
    "facts",
    "ledger",
    "needs",
    "reads",
    "treated",
]
