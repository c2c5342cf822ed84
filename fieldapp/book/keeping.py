"""The book's own file: kept states, and the index from hives to the records that touch them.

All of it is derived from the journal: deleting the file costs time, never truth. What is
written stands in one transaction with the number of the last arrival that it comes from.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from fieldapp.book.codec import frozen, thawed
from fieldapp.book.file import RULES, made_anew, opened
from fieldapp.book.shelf import on_shelf
from fieldapp.husbandry.folding import Handovers
from fieldapp.husbandry.handing import Handover
from fieldapp.husbandry.placing import hives_named, marks_named
from fieldapp.husbandry.shared import SHARED
from fieldapp.husbandry.state import HiveState
from fieldapp.husbandry.supers import LotState, Marked
from fieldapp.journal.corrections import versions
from fieldapp.journal.record import Record

#: What `touch.of` is for the records that belong to no hive and for those of the books beside
#: the hives; hives are UUIDs, marks begin so.
_SHARED, _SHELF, _MARK = "shared", "shelf", "mark:"

#: So many ids go into one question.
_MOST = 500


class Keeping:
    """The file, or the same in memory. It is `fieldapp.husbandry.kept.Kept`.

    What is read raises `Damaged` where it is not what was written.
    """

    def __init__(
        self,
        path: Path | None,
        by_ids: Callable[[Sequence[str]], list[Record]],
        group: Callable[[str], Iterable[str]],
    ) -> None:
        """Open the file, made anew where it is damaged or of other rules.

        `by_ids` fetches records that count from the journal; `group` gives every id of a hive.
        """
        self._path = path
        self._by_ids = by_ids
        self._group = group
        self.batch: set[str] = set()
        self._connection = opened(path, RULES)

    def begin_anew(self) -> None:
        """Forget everything."""
        self.batch = set()
        self._connection.close()
        self._connection = made_anew(self._path, RULES)

    def close(self) -> None:
        """Close the file; what was not kept is forgotten."""
        self._connection.close()

    # What it stands for

    def meta(self, name: str) -> str:
        """Return a remark about the whole, empty where there is none."""
        row = self._connection.execute("SELECT value FROM meta WHERE name = ?", (name,)).fetchone()
        return thawed(str, row[0]) if row else ""

    def _begin(self) -> None:
        if not self._connection.in_transaction:
            self._connection.execute("BEGIN IMMEDIATE")

    def index(self, records: Iterable[Record]) -> None:
        """Note which hives and marks each record touches. Kept with the next `keep`."""
        self._begin()
        touches: list[tuple[str, str, str, str]] = []
        corrections: list[tuple[str, str]] = []
        annexes: list[tuple[str, str]] = []
        for record in records:
            root = record.corrects or record.id
            if record.corrects is not None:
                corrections.append((root, record.id))
            if record.adds_to is not None:
                if record.corrects is None:
                    annexes.append((record.adds_to, record.id))
                continue
            touched = [*hives_named(record), *(_MARK + mark for mark in marks_named(record))]
            if record.kind in SHARED:
                touched.append(_SHARED)
            if on_shelf(record):
                touched.append(_SHELF)
            touches += [(of, root, record.day, record.stamp) for of in touched]
        run = self._connection.executemany
        # In order, because in a file of many records each would else go to a page of its own.
        run("INSERT OR IGNORE INTO touch VALUES (?, ?, ?, ?)", sorted(touches))
        run("INSERT OR IGNORE INTO correction VALUES (?, ?)", corrections)
        run("INSERT OR IGNORE INTO annex VALUES (?, ?)", annexes)

    def keep(
        self,
        meta: dict[str, str],
        states: Iterable[tuple[HiveState, int, HiveState, LotState | None]],
        handovers: Iterable[tuple[str, tuple[str, int, str], tuple[Handover, ...]]],
        marks: Iterable[tuple[str, Marked | None]],
        uses: Iterable[tuple[str, str]],
    ) -> None:
        """Keep states (whole, since when, recent, lot), handovers by source, marks and uses.

        The sheets of before are gone with it.
        """
        self._begin()
        self._connection.execute("DELETE FROM sheet")
        run = self._connection.executemany
        run(
            "INSERT OR REPLACE INTO state VALUES (?, ?, ?, ?, ?)",
            (
                (
                    whole.hive,
                    since,
                    frozen(_bare(recent)),
                    frozen(_bare(whole)),
                    frozen(lot) if lot is not None else "",
                )
                for whole, since, recent, lot in states
            ),
        )
        run(
            "INSERT OR REPLACE INTO handover VALUES (?, ?, ?, ?, ?)",
            ((*name, source, frozen(handed)) for source, name, handed in handovers),
        )
        run(
            "INSERT OR REPLACE INTO mark VALUES (?, ?)",
            ((mark, frozen(marked) if marked else "") for mark, marked in marks),
        )
        run("INSERT OR IGNORE INTO used VALUES (?, ?)", uses)
        run(
            "INSERT OR REPLACE INTO meta VALUES (?, ?)",
            ((name, frozen(value)) for name, value in meta.items()),
        )
        self._connection.execute("COMMIT")

    def keep_sheets(self, sheets: Iterable[tuple[int, str]]) -> None:
        """Keep the sheets of days (ordinals), which must be of all that is kept and no more.

        On a disk that takes no more none is: each can be made again.
        """
        self._begin()
        try:
            self._connection.executemany("INSERT OR REPLACE INTO sheet VALUES (?, ?)", sheets)
            self._connection.execute("COMMIT")
        except sqlite3.Error:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")

    def sheet_days(self) -> set[int]:
        """Return the days (ordinals) of which a sheet is kept."""
        return {day for (day,) in self._connection.execute("SELECT day FROM sheet")}

    # Records

    def _fetched(self, names: Iterable[str]) -> list[Record]:
        """Return the records of these ids, but for what is being taken in just now."""
        return self._by_ids([name for name in names if name not in self.batch])

    def _named(self, question: str, of: Sequence[str]) -> list[tuple[str, str]]:
        """Return what a question that ends in a list of ids answers for all of them."""
        found: list[tuple[str, str]] = []
        for first in range(0, len(of), _MOST):
            some = of[first : first + _MOST]
            marks = ",".join("?" * len(some))
            found += self._connection.execute(f"{question} ({marks})", some).fetchall()
        return found

    def families(self, roots: Sequence[str]) -> list[Record]:
        """Return roots that have arrived, and all that corrects them."""
        made = self._named("SELECT root, record FROM correction WHERE root IN", roots)
        return self._fetched([*roots, *(name for _, name in made)])

    def corrections(self, root: str) -> list[Record]:
        """Return what corrects a root."""
        made = self._named("SELECT root, record FROM correction WHERE root IN", [root])
        return self._fetched(name for _, name in made)

    def annexes(self, roots: Sequence[str]) -> list[Record]:
        """Return what adds to any of these roots, as it holds: some of it may be taken back."""
        rows = self._named("SELECT root, record FROM annex WHERE root IN", roots)
        known = versions(self.families([name for _, name in rows]))
        return [each.holds for each in known.values()]

    def roots_of(self, hive: str) -> set[str]:
        """Return the ids of the roots that touch a hive in any version."""
        return {root for name in self._group(hive) for root in self._touching(name)}

    def roots_since(self, hive: str, day: str, stamp: str) -> set[str]:
        """Return those roots that touch a hive and may be of `day` or later, made after `stamp`.

        A root that was corrected may be so too, whatever it says itself.
        """
        question = (
            "SELECT record FROM touch WHERE of = ? AND (day >= ? AND stamp > ? "
            "OR EXISTS (SELECT 1 FROM correction WHERE root = touch.record))"
        )
        run = self._connection.execute
        return {root for name in self._group(hive) for (root,) in run(question, (name, day, stamp))}

    def _touching(self, of: str) -> list[str]:
        rows = self._connection.execute("SELECT record FROM touch WHERE of = ?", (of,))
        return [root for (root,) in rows.fetchall()]

    def shared(self) -> list[Record]:
        """Return the records that belong to no hive and that rules read."""
        return self._all(_SHARED)

    def on_shelf(self) -> list[Record]:
        """Return the records of the books beside the hives."""
        return self._all(_SHELF)

    def _all(self, of: str) -> list[Record]:
        """Return the roots that touch something, and all that corrects them."""
        return self.families(self._touching(of))

    def records_of(self, hive: str) -> Iterable[Record]:
        """Return the roots that touch a hive in any version, and all that corrects them."""
        return self.families(sorted(self.roots_of(hive)))

    def records_of_mark(self, mark: str) -> Iterable[Record]:
        """Return the roots that touch a marked super in any version, and their corrections."""
        return self.families(self._touching(_MARK + mark))

    def family(self, root: str) -> Iterable[Record]:
        """Return a root, if it has arrived, and all that corrects it."""
        return self.families([root])

    # States

    def hives(self) -> Iterable[str]:
        """Return the ids of all hives that have a kept state."""
        return [hive for (hive,) in self._connection.execute("SELECT hive FROM state")]

    def state(self, hive: str) -> HiveState | None:
        """Return a hive's kept state."""
        row = self._connection.execute("SELECT whole FROM state WHERE hive = ?", (hive,)).fetchone()
        return thawed(HiveState, row[0]) if row else None

    def recent(self, day: int) -> Iterator[HiveState]:
        """Return of every kept hive what the agenda of a day needs."""
        for since, recent, whole in self._connection.execute(
            "SELECT since, recent, CASE WHEN since > ? THEN whole END FROM state", (day,)
        ):
            yield thawed(HiveState, recent if since <= day else whole)

    def lot(self, hive: str) -> LotState | None:
        """Return the kept state of a hive's unmarked supers."""
        row = self._connection.execute("SELECT lot FROM state WHERE hive = ?", (hive,)).fetchone()
        return thawed(LotState, row[0]) if row and row[0] else None

    def marked(self, mark: str) -> Marked | None:
        """Return the kept state of a marked super."""
        row = self._connection.execute("SELECT value FROM mark WHERE mark = ?", (mark,)).fetchone()
        return thawed(Marked, row[0]) if row and row[0] else None

    def heads(self) -> Iterable[str]:
        """Return the roots of which several versions stand side by side."""
        return self.meta("heads").split()

    def handovers(self, hive: str) -> Handovers:
        """Return what other hives had handed over to this one, and it to others."""
        rows = self._connection.execute(
            "SELECT root, place, receiver, value FROM handover WHERE receiver = ? OR source = ?",
            (hive, hive),
        )
        return {
            (root, place, receiver): thawed(tuple[Handover, ...], value)
            for root, place, receiver, value in rows.fetchall()
        }

    def users(self, key: str) -> Iterable[str]:
        """Return the hives that use what stands under a key: terms, plans, answers."""
        rows = self._connection.execute("SELECT hive FROM used WHERE key = ?", (key,))
        return [hive for (hive,) in rows.fetchall()]


def _bare(state: HiveState) -> HiveState:
    """Return a state without what the shared records say again."""
    return state._replace(terms={}, plans={}, entered={})
