"""The journal: one SQLite file that only grows; opening it, and writing."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from hashlib import sha256
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from fieldapp.journal import chain, connections, ids, marker, schema, stamps
from fieldapp.journal.connections import Connect, Connections
from fieldapp.journal.contents import Contents
from fieldapp.journal.errors import Damaged, ReadOnly, TooLarge, Unwritable
from fieldapp.journal.fields import outline
from fieldapp.journal.ids import Entropy
from fieldapp.journal.kinds import KINDS
from fieldapp.journal.reading import Seen, decode
from fieldapp.journal.record import MOST_BYTES, Draft, NotUnderstood, Record, encode
from fieldapp.journal.rows import INSERT, judged, settle_standing
from fieldapp.journal.schema import NOT_UNDERSTOOD
from fieldapp.journal.tree import begin_branch
from fieldapp.words import say

#: Names what this version understands; when it changes, kept records are judged anew.
VOCABULARY: Final = sha256(
    repr(sorted((*key, kind.needs, outline(kind.check)) for key, kind in KINDS.items())).encode()
).hexdigest()[:16]

_FIRST_BYTES = b"SQLite format 3\x00"


class Journal(Contents):
    """All records of one operation on this device, phone or server: what it holds, and writing.

    Any thread may call any method; each has a connection of its own and one writes at a time.
    Made by `Journal.open`; closed by `close` or at the end of a ``with`` block.
    """

    def __init__(self, files: Connections, now_ms: Callable[[], int], entropy: Entropy) -> None:
        """Join the parts; use `open` instead."""
        super().__init__(files)
        self.now_ms = now_ms
        self.entropy = entropy
        self._marker = ""

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        now_ms: Callable[[], int],
        entropy: Entropy,
        new_writer: bool = False,
        connect: Connect = connections.connect,
    ) -> Self:
        """Open the journal at `path`, or begin one there.

        `now_ms` returns milliseconds since 1970, `entropy` so many random bytes. `new_writer`:
        records from now on are another writer's (each start of a server, each restore).

        :raises Damaged: where the file cannot be read; `recovery.open_or_recover` saves it.
        :raises NotAJournal: where it is something else.
        :raises TooNew: where a later version wrote it.
        :raises ReadOnly: where it cannot be written.
        """
        try:
            begun = path.exists() and path.stat().st_size > 0
            wal = path.with_name(path.name + "-wal").exists()
            if begun and path.open("rb").read(16) != _FIRST_BYTES:
                raise Damaged(str(path), "its first bytes are not those of a journal")
            path.parent.mkdir(parents=True, exist_ok=True)
        except PermissionError as error:
            raise ReadOnly(str(path)) from error
        journal = cls(Connections(path, connect), now_ms, entropy)
        try:
            journal._prepare(begun, wal, new_writer)
        except BaseException:
            journal.connections.close()
            raise
        return journal

    def _prepare(self, begun: bool, wal: bool, new_writer: bool) -> None:
        path = self.connections.path
        with self.connections.errors():
            connection = self.connections.here()
            if not schema.check(connection, str(path)):
                connection.execute("PRAGMA journal_mode = WAL")
                schema.migrate(connection)
            elif connection.execute("PRAGMA journal_mode = WAL").fetchone()[0] != "wal":
                raise ReadOnly(str(path))
        mark, closed = marker.read(path)
        with self.connections.writing() as connection:
            kept, vocabulary = connection.execute(
                "SELECT marker, vocabulary FROM replica"
            ).fetchone()
            if vocabulary != VOCABULARY:
                self._judge_again(connection)
            if begun and not closed and not wal and mark == kept:
                self.remark(connection, "lost wal", "")
                new_writer = True
            elif begun and mark != kept:
                self.remark(connection, "new writer", "marker")
                new_writer = True
            if new_writer or not kept:
                kept = self.entropy(16).hex()
                connection.execute("UPDATE replica SET own = NULL, marker = ?", (kept,))
        self._marker = kept
        self._mark(closed=False)

    def _mark(self, closed: bool) -> None:
        try:
            marker.write(self.connections.path, self._marker, closed)
        except PermissionError as error:
            raise ReadOnly(str(self.connections.path)) from error

    def _judge_again(self, connection: sqlite3.Connection) -> None:
        for (ident,) in connection.execute(
            "SELECT DISTINCT ident FROM record WHERE standing = ?", (NOT_UNDERSTOOD,)
        ).fetchall():
            settle_standing(connection, ident)
        connection.execute(
            "UPDATE replica SET vocabulary = ?, generation = generation + 1", (VOCABULARY,)
        )

    def close(self) -> None:
        """Close the file in order. Safe to call twice."""
        self.connections.close()
        if self._marker:
            self._mark(closed=True)
            self._marker = ""

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def write(self, drafts: Sequence[Draft]) -> list[Record]:
        """Write `drafts`, all or none, and return their records once they are on the disk.

        :raises Unwritable: for a field that does not fit; names it and what would.
        :raises TooLarge: for a record over 64 KiB.
        :raises Full: where the disk has no room.
        :raises ReadOnly: where the file cannot be written.
        """
        with self.connections.writing() as connection:
            return self.write_in(connection, drafts)

    def write_in(self, connection: sqlite3.Connection, drafts: Sequence[Draft]) -> list[Record]:
        """Write `drafts` in the transaction that `connection` is in; on the disk when it ends."""
        if not drafts:
            return []
        number, writer, seq, digest, stamp = self.own_end(connection)
        records, rows = [], []
        for draft in drafts:
            seq, stamp = seq + 1, stamps.following(stamp, self.now_ms())
            record, raw = self._first_written(draft, stamp, writer, seq)
            digest = chain.link(digest, raw)
            records.append(record)
            rows.append(judged(number, seq, digest, raw, Seen(record.id, record.stamp, True)))
        try:
            connection.executemany(INSERT, rows)
        except sqlite3.IntegrityError as error:
            raise Unwritable("a draft", "id", say("an id that no other record has")) from error
        self.own_ends(connection, seq, stamp)
        return records

    def _first_written(
        self, draft: Draft, stamp: str, writer: bytes, seq: int
    ) -> tuple[Record, bytes]:
        record = Record(
            draft.id or ids.uuid7(self.now_ms(), self.entropy(10)),
            draft.kind,
            draft.v,
            draft.happened,
            stamp,
            writer.hex(),
            seq,
            draft.keeper,
            draft.body,
            *draft[5:12],
        )
        try:
            raw = encode(record)
        except (TypeError, ValueError) as error:
            raise Unwritable(
                draft.kind, "body", say("what JSON can write ({error})", error=str(error))
            ) from error
        if len(raw) > MOST_BYTES:
            raise TooLarge(draft.kind, len(raw), MOST_BYTES)
        said = decode(raw)
        if isinstance(said, NotUnderstood):
            raise Unwritable(draft.kind, said.field, said.expected)
        return said, raw

    def own_end(self, connection: sqlite3.Connection) -> tuple[int, bytes, int, bytes, str]:
        """Return branch, writer, seq and digest of the last own record, and the last stamp.

        To be called in a transaction that writes: a writer is chosen with its first record.
        """
        own, own_seq, stamp = connection.execute(
            "SELECT own, own_seq, stamp FROM replica"
        ).fetchone()
        row = connection.execute(
            "SELECT writer, seq, digest FROM branch JOIN record USING (branch) "
            "WHERE branch = ? ORDER BY seq DESC LIMIT 1",
            (own,),
        ).fetchone()
        if row is not None and row[1] == own_seq:
            return own, row[0], own_seq, row[2], stamp
        # None yet, or its last records were removed: nothing may be written in their place.
        writer = self.entropy(chain.WRITER_BYTES)
        own = begin_branch(connection, writer, 1, None).number
        connection.execute("UPDATE replica SET own = ?, own_seq = 0", (own,))
        return own, writer, 0, chain.start(writer), stamp

    def own_ends(self, connection: sqlite3.Connection, seq: int, stamp: str) -> None:
        """Keep seq and stamp of the last own record, in the transaction that wrote it."""
        connection.execute("UPDATE replica SET own_seq = ?, stamp = ?", (seq, stamp))

    def write_again(self, connection: sqlite3.Connection, arrival: int, raw: bytes) -> None:
        """Give a record that lost its place, or has none, the next one of the own writer."""
        own, _, seq, digest, stamp = self.own_end(connection)
        connection.execute(
            "UPDATE record SET branch = ?, seq = ?, digest = ? WHERE arrival = ?",
            (own, seq + 1, chain.link(digest, raw), arrival),
        )
        self.own_ends(connection, seq + 1, stamp)

    def begin_writer(self) -> None:
        """Let records from now on be another writer's."""
        with self.connections.writing() as connection:
            connection.execute("UPDATE replica SET own = NULL")

    def remark(self, connection: sqlite3.Connection, what: str, detail: str) -> None:
        """Keep something that the keeper is to be told, in the transaction of `connection`."""
        connection.execute(
            "INSERT INTO remark (at, what, detail) VALUES (?, ?, ?)",
            (self.now_ms(), what, detail),
        )
