"""Sameness: apiaries, hives, colonies or keepers that have several ids and are one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from fieldapp.journal.record import Record

What = Literal["apiary", "hive", "colony", "keeper"]


class Same:
    """Which id stands for each: transitive, and the smallest id stands for its group."""

    def __init__(self) -> None:
        self._parent: dict[tuple[str, str], str] = {}

    def of(self, what: What, name: str) -> str:
        """Return the id that stands for `name`; itself where it was joined with none."""
        return self._root(what, name) if self._parent else name

    def group(self, what: What, name: str) -> tuple[str, ...]:
        """Return every id that is one with `name`, sorted; at least `name` itself."""
        root = self._root(what, name)
        joined = {
            other for of, other in self._parent if of == what and self._root(of, other) == root
        }
        return tuple(sorted(joined | {name, root}))

    def join(self, what: str, names: Iterable[str]) -> None:
        """Make `names` one."""
        roots = {self._root(what, name) for name in names}
        smallest = min(roots)
        for root in roots:
            self._parent[what, root] = smallest

    def _root(self, what: str, name: str) -> str:
        # Parents are always smaller, so the walk ends, and at the smallest.
        while (parent := self._parent.get((what, name), name)) != name:
            name = parent
        return name


def groups(records: Iterable[Record]) -> Same:
    """Return the sameness that the ``same_as`` records among `records` make.

    Give the versions that hold (`Version.holds`); voided ones join nothing.
    """
    same = Same()
    for record in records:
        if record.kind == "same_as" and not record.void:
            same.join(record.body["what"], record.body["ids"])
    return same
