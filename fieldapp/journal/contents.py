"""What a journal holds: records by their arrival and id, the vector, what is told to the keeper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from fieldapp.journal import ids
from fieldapp.journal.chain import Vector
from fieldapp.journal.connections import Connections
from fieldapp.journal.reading import decode
from fieldapp.journal.record import NotUnderstood, Record
from fieldapp.journal.schema import NOT_UNDERSTOOD, OTHER_CONTENT
from fieldapp.journal.tree import Tree

_PAGE: Final = 1000


class Kept(NamedTuple):
    """A record that is on the disk and takes part in no rule: its place, bytes, and why."""

    arrival: int
    writer: str
    seq: int
    raw: bytes
    why: NotUnderstood | None


class Remark(NamedTuple):
    """Something the keeper is told: when (milliseconds since 1970), what, and details."""

    number: int
    at: int
    what: str
    detail: str


class Contents:
    """The contents of one journal file, read and never changed. Any thread may call any method."""

    def __init__(self, files: Connections) -> None:
        self.connections = files

    def remarks(self, after: int = 0) -> list[Remark]:
        """Return what the keeper is to be told, the oldest first, after remark `after`."""
        with self.connections.reading() as connection:
            rows = connection.execute("SELECT * FROM remark WHERE number > ?", (after,))
            return [Remark(*row) for row in rows]

    @property
    def writer(self) -> str | None:
        """The writer of this replica's next record, None where that is not chosen yet."""
        with self.connections.reading() as connection:
            row = connection.execute(
                "SELECT writer FROM replica JOIN branch ON branch = own"
            ).fetchone()
        return row[0].hex() if row else None

    @property
    def generation(self) -> int:
        """Changes when what counts changed otherwise than by arrivals: derived state is stale."""
        with self.connections.reading() as connection:
            number: int = connection.execute("SELECT generation FROM replica").fetchone()[0]
            return number

    def arrivals(self, after: int = 0) -> Iterator[tuple[int, Record]]:
        """Yield what counts, by the number of its arrival in this file, above `after`.

        Each record counts once, wherever it stands. Of several contents under an id the one
        that counts may arrive later than another: the last one yielded under an id holds.
        """
        while True:
            with self.connections.reading() as connection:
                page = connection.execute(
                    "SELECT arrival, raw FROM record WHERE arrival > ? AND standing = 0 "
                    "ORDER BY arrival LIMIT ?",
                    (after, _PAGE),
                ).fetchall()
            for arrival, raw in page:
                record = decode(raw)
                if isinstance(record, Record):
                    yield arrival, record
                after = arrival
            if len(page) < _PAGE:
                return

    def last_arrival(self) -> int:
        """Return the number of the last arrival, 0 in an empty journal."""
        with self.connections.reading() as connection:
            number: int | None = connection.execute("SELECT max(arrival) FROM record").fetchone()[0]
            return number or 0

    def by_id(self, record_id: str) -> Record | None:
        """Return the record that counts under this id."""
        raw = self.raw_by_id(record_id)
        record = decode(raw) if raw is not None else None
        return record if isinstance(record, Record) else None

    def by_ids(self, record_ids: Sequence[str]) -> list[Record]:
        """Return the records that count under these ids, in no order."""
        raws: list[bytes] = []
        with self.connections.reading() as connection:
            for first in range(0, len(record_ids), _PAGE):
                some = [ids.in_bytes(each) for each in record_ids[first : first + _PAGE]]
                marks = ",".join("?" * len(some))
                raws += (
                    raw
                    for (raw,) in connection.execute(
                        f"SELECT raw FROM record WHERE ident IN ({marks}) AND standing = 0",  # noqa: S608  (marks only)
                        some,
                    )
                )
        found = (decode(raw) for raw in raws)
        return [record for record in found if isinstance(record, Record)]

    def raw_by_id(self, record_id: str) -> bytes | None:
        """Return the exact bytes of the record that counts under this id."""
        with self.connections.reading() as connection:
            row: tuple[bytes] | None = connection.execute(
                "SELECT raw FROM record WHERE ident = ? AND standing = 0",
                (ids.in_bytes(record_id),),
            ).fetchone()
        return row[0] if row else None

    def count(self) -> int:
        """Return how many records count.

        From the number of the last arrival, because counting rows takes 0.1 s in a million.
        """
        with self.connections.reading() as connection:
            number: int = connection.execute(
                "SELECT (SELECT coalesce(max(arrival), 0) FROM record) "
                "- (SELECT count(*) FROM record WHERE standing <> 0) - gone FROM replica"
            ).fetchone()[0]
            return number

    def vector(self) -> Vector:
        """Return the heads of all that stands without gap."""
        with self.connections.reading() as connection:
            return Tree(connection).vector()

    def not_understood(self) -> list[Kept]:
        """Return the records that are stored and passed on but take part in no rule."""
        return [
            kept._replace(why=said)
            for kept in self._kept(NOT_UNDERSTOOD)
            if isinstance(said := decode(kept.raw), NotUnderstood)
        ]

    def other_contents(self) -> list[Kept]:
        """Return contents that do not count because another one counts under their id."""
        return self._kept(OTHER_CONTENT)

    def _kept(self, standing: int) -> list[Kept]:
        with self.connections.reading() as connection:
            rows = connection.execute(
                # Named, because ORDER BY makes SQLite walk every record instead.
                "SELECT arrival, writer, seq, raw FROM record INDEXED BY record_other "
                "JOIN branch USING (branch) WHERE standing = ? AND standing <> 0 ORDER BY arrival",
                (standing,),
            )
            return [Kept(row[0], row[1].hex(), row[2], row[3], None) for row in rows]
