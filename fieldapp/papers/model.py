"""The record book as it is, before anybody speaks or draws it.

Days are civil dates. None, an empty text and an empty tuple are *not known* or *none* as each
field says; a number is never made up for one that is missing.
"""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Honey
from fieldapp.husbandry.ledger import Lot, Premises
from fieldapp.journal.chain import Place
from fieldapp.journal.record import Record
from fieldapp.words import Phrase

Sign = Literal["", "done", "due", "late", "closed", "quiet", "unknown"]


class Amount(NamedTuple):
    """What was given: so much of what, per what (empty: as a whole)."""

    amount: float
    unit: str
    of: str = ""
    per: str = ""


class Withdrawal(NamedTuple):
    """The withdrawal period for honey of one treatment, also where it is zero.

    `days` is None for a period of another form and where none is known; `words` says which.
    """

    days: int | None
    words: Phrase
    known: bool
    source: str
    standing: str


class Treated(NamedTuple):
    """One treatment given to one hive once, with all that a law wants to know of it.

    `first` and `last` are the days of its course: the first application, and the last one or the
    last piece out (None: it goes on, or is not known); it is the `k`-th of `n` planned.
    `honey_from` is the first day on which nothing recorded closes the hive, None where that is
    not known.
    """

    record: Record
    day: date
    apiary: str
    hive: str
    name: str
    active: str
    method: str
    form: str
    label: str
    first: date | None
    last: date | None
    days: int | None
    k: int | None
    n: int | None
    amount: Amount | None
    pieces: int | None
    pieces_out: date | None
    pieces_state: Literal["", "in", "out", "not known"]
    lots: tuple[Lot, ...]
    withdrawal: Withdrawal
    honey_from: date | None
    person: str
    remarks: tuple[Phrase, ...]
    change: int | None


class HiveNow(NamedTuple):
    """A hive on the day of the book: its honey, and pieces that are in it."""

    apiary: str
    hive: str
    honey: Honey
    pieces_in: bool
    dead: bool


class Change(NamedTuple):
    """A record that was corrected or voided: its number, when by the writer's clock, what changed.

    `open` is how many versions stand side by side; more than one: not yet answered.
    """

    number: int
    record: Record
    what: str
    where: str
    made: date
    person: str
    void: bool
    changed: tuple[Phrase, ...]
    open: int


class Event(NamedTuple):
    """A dated line of the register or of the counts: where, what, in words, by whom."""

    day: date
    apiary: str
    hive: str
    what: Phrase
    words: Phrase
    person: str
    record: str


class Drawn(NamedTuple):
    """Honey drawn into a lot; `held` says why the lot is to be held, empty where it is not."""

    day: date
    lot: str
    hives: tuple[str, ...]
    amount: float | None
    unit: str
    went: str
    held: tuple[Phrase, ...]
    record: str


class Disposed(NamedTuple):
    """An amount disposed of."""

    day: date
    lot: Lot | None
    amount: float
    unit: str
    how: str
    where: str
    person: str
    record: str


class Missing(NamedTuple):
    """A gap by name, and how many records it is about."""

    words: Phrase
    records: tuple[str, ...]


class Tally(NamedTuple):
    """How many records the book rests on, and how many of them were changed or lie outside."""

    records: int
    corrected: int
    voided: int
    slips: int
    not_understood: int
    others: int


class RecordBook(NamedTuple):
    """All that the record book shows, of `apiary` or of all (None), from `first` to `day`."""

    day: date
    first: date
    apiary: str | None
    keepers: tuple[str, ...]
    premises: tuple[Premises, ...]
    hives: tuple[HiveNow, ...]
    treated: tuple[Treated, ...]
    lots: tuple[Lot, ...]
    disposed: tuple[Disposed, ...]
    drawn: tuple[Drawn, ...]
    counts: tuple[Event, ...]
    register: tuple[Event, ...]
    periods: tuple[Event, ...]
    changes: tuple[Change, ...]
    gaps: tuple[Missing, ...]
    tally: Tally
    heads: tuple[Place, ...]
