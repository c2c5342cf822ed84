"""What an operation may leave asleep: hives whose states were kept, woken when touched."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from fieldapp.husbandry.folding import Handovers
from fieldapp.husbandry.state import HiveState
from fieldapp.husbandry.supers import LotState, Marked
from fieldapp.journal.record import Record


class Kept(Protocol):
    """Kept states and the records they were folded from, by hive.

    Everything here is as of one moment; what the operation takes later it keeps itself.
    """

    def hives(self) -> Iterable[str]:
        """Return the ids of all hives that have a kept state."""

    def state(self, hive: str) -> HiveState | None:
        """Return a hive's kept state."""

    def lot(self, hive: str) -> LotState | None:
        """Return the kept state of a hive's unmarked supers."""

    def marked(self, mark: str) -> Marked | None:
        """Return the kept state of a marked super."""

    def heads(self) -> Iterable[str]:
        """Return the roots of which several versions stand side by side."""

    def handovers(self, hive: str) -> Handovers:
        """Return what other hives had handed over to this one, and it to others."""

    def records_of(self, hive: str) -> Iterable[Record]:
        """Return the roots that touch a hive in any version, and all that corrects them."""

    def records_of_mark(self, mark: str) -> Iterable[Record]:
        """Return the roots that touch a marked super in any version, and their corrections."""

    def family(self, root: str) -> Iterable[Record]:
        """Return a root, if it has arrived, and all that corrects it."""

    def users(self, key: str) -> Iterable[str]:
        """Return the hives that use what stands under a key: terms, plans, answers."""
