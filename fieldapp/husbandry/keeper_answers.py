"""What the keeper answered: which course an application joins, what is twice, what went along.

Each answer is kept by the root that made it, as all in `fieldapp.husbandry.shared` is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fieldapp.husbandry.tracks import NEW
from fieldapp.journal.record import Record

#: The kinds that answer.
ANSWERS = frozenset({"answer_twice", "answer_joins", "answer_split"})


class KeeperAnswers:
    """The answers that hold; `put` takes one in."""

    def __init__(self) -> None:
        self._joins: dict[str, dict[str, tuple[tuple[str, str], str]]] = {}
        self._splits: dict[str, dict[str, tuple[tuple[str, str], int]]] = {}
        self._twice: dict[str, Record] = {}
        self._twice_of: dict[str, set[str]] = {}

    def joins(self, applications: Iterable[str]) -> str | None:
        """Return the course that an application, by any of its ids, was answered to join.

        `NEW` for a new one, None where nobody answered; of several answers the latest.
        """
        if not self._joins:
            return None
        answers = [a for name in applications for a in self._joins.get(name, {}).values()]
        return max(answers)[1] if answers else None

    def pieces_along(self, split: Record) -> int | None:
        """Return how many pieces went along in a split, None where nobody said."""
        answers = self._splits.get(split.id)
        if answers:
            return max(answers.values())[1]
        return split.body.get("pieces_along")

    def twice(self, applications: Sequence[str]) -> list[Record]:
        """Return the answers that name any of these applications."""
        names: set[str] = set()
        for application in applications:
            names |= self._twice_of.get(application, set())
        return [self._twice[name] for name in sorted(names)]

    def put(self, kind: str, root: str, versions: list[Record]) -> set[str]:
        """Take in the version of a root that holds, or none; return the ids that it speaks of."""
        if kind == "answer_twice":
            return self._put_twice(root, versions)
        if kind == "answer_joins":
            return self._put_joins(root, versions)
        return self._put_split(root, versions)

    def _put_twice(self, root: str, versions: list[Record]) -> set[str]:
        keys: set[str] = set()
        before = self._twice.pop(root, None)
        for record in (before, versions[0] if versions else None):
            if record is not None:
                keys |= {name for part in record.body["parts"] for name in part}
        for name in keys:
            self._twice_of.setdefault(name, set()).discard(root)
        if versions:
            self._twice[root] = versions[0]
            for part in versions[0].body["parts"]:
                for name in part:
                    self._twice_of.setdefault(name, set()).add(root)
        return keys

    def _put_joins(self, root: str, versions: list[Record]) -> set[str]:
        keys = {name for name, answers in self._joins.items() if answers.pop(root, None)}
        if versions:
            record = versions[0]
            name = record.body["application"]
            course = record.body.get("course", NEW)
            self._joins.setdefault(name, {})[root] = ((record.stamp, root), course)
            keys.add(name)
        return keys

    def _put_split(self, root: str, versions: list[Record]) -> set[str]:
        keys = {name for name, answers in self._splits.items() if answers.pop(root, None)}
        if versions:
            record = versions[0]
            name = record.body["split"]
            along = record.body["pieces_along"]
            self._splits.setdefault(name, {})[root] = ((record.stamp, root), along)
            keys.add(name)
        return keys
