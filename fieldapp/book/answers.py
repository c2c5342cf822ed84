"""What the book answers beyond what the rules do: the walk, history, lots, questions."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.journal.record import Record
from fieldapp.words import Phrase


class Place(NamedTuple):
    """An apiary as it is known, and how many of its hives have a living colony."""

    id: str
    name: str
    country: str
    zone: str
    lat: float | None
    lon: float | None
    registration: str
    hives: int


class Stop(NamedTuple):
    """One hive in the order of the walk; `dead` and `ended` say why nobody lives in it."""

    hive: str
    number: str
    stand: float | None
    colony: str
    dead: bool
    ended: str


class Entry(NamedTuple):
    """One record of a hive's history, with all that corrects it or adds to it.

    `holds` is the version that holds, in the root's form; `versions` all that stand side by
    side, that one last; `corrections` those that were made, oldest first. `annexes` are those
    that stand, `withdrawn` those that were taken back.
    """

    root: Record
    holds: Record
    versions: tuple[Record, ...]
    corrections: tuple[Record, ...]
    annexes: tuple[Record, ...]
    withdrawn: tuple[Record, ...] = ()

    @property
    def void(self) -> bool:
        """Whether the version that holds voids the record."""
        return self.holds.void


class Lot(NamedTuple):
    """A lot of honey: what went into it (hive, mark or empty, day), and why it is to be held."""

    lot: str
    takes: tuple[tuple[str, str, date], ...]
    held: tuple[Reason, ...]


class Asked(NamedTuple):
    """A question to the keeper, in words, with the records that it is about.

    `what` is ``twice``, ``heads``, ``joins``, ``split``, ``pieces``, ``period`` or ``unite``, on
    a phone ``clock``; `hive` is empty where the records belong to none. For ``same apiary``,
    ``same hive`` and ``same keeper`` the two ids of what may be one stand for `records`.
    """

    what: str
    hive: str
    records: tuple[str, ...]
    treatment: str
    phrase: Phrase
