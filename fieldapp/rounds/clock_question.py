"""When a sync or a fix shows that this phone's clock was off: one question for all it timed.

A wrong clock blocks nothing. Records are left as they are until the keeper says which clock was
right; then each of them is corrected, or none. What is still to be asked is the phone's own
matter and kept beside its settings.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from fieldapp.book.answering import Answer
from fieldapp.book.answers import Asked
from fieldapp.journal import happened
from fieldapp.journal.batches import batches
from fieldapp.journal.corrections import Version, versions
from fieldapp.journal.reading import decode
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds import clock_words
from fieldapp.rounds.clock_words import By
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, say

#: A clock that differs by more than this is asked about, in milliseconds.
TOLERATED_MS: Final = 120_000
#: Ids in one answer: so many fit well into the largest record that there may be.
_IDS: Final = 1000
_AGREED, _OFF = "clock agreed", "clock off"


class ClockQuestion:
    """What this phone's clock timed since it last agreed with another."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook

    def heard(self, ahead_ms: int, by: By = "server") -> None:
        """Take in how far ahead of the server's clock, or the satellites', this phone's is."""
        here = self._here()
        if here is None:
            return
        local = self._notebook.local
        if abs(ahead_ms) <= TOLERATED_MS:
            if local.get(_AGREED) != here:
                local.put(_AGREED, here)
            return
        off = {"ahead_ms": ahead_ms, "by": by, "after": local.get(_AGREED), "up_to": here}
        if any(True for _ in self._timed(off)):
            # Since one agreement there is one question, and who was heard last knows best.
            older = [each for each in self._pending() if each["after"] != off["after"]]
            local.put(_OFF, [*older, off])

    def asked(self) -> list[Asked]:
        """Return the question, if there is one; the oldest of several."""
        for off in self._pending():
            found = self._versions(off)
            if found:
                phrase = clock_words.question(_by(off), off["ahead_ms"], len(found))
                return [Asked("clock", "", tuple(found), "", phrase)]
        return []

    def told(self) -> list[Phrase]:
        """Return the first and the last time in question, by both clocks."""
        for off in self._pending():
            found = list(self._versions(off).values())
            if found:
                times = [found[0]] if len(found) == 1 else [found[0], found[-1]]
                return [_by_both(version.holds, off) for version in times] + [
                    say("Set this phone's clock too, if it still is wrong.")
                ]
        return []

    def answers(self, asked: Asked) -> list[Answer]:
        """Return what to do with the records of the question."""
        off = next((each for each in self._pending() if self._is(each, asked)), None)
        if off is None:
            return []
        found = self._versions(off)
        moved = tuple(_moved(version, off["ahead_ms"]) for version in found.values())
        return [
            Answer(
                "corrected",
                clock_words.correct(_by(off), len(found)),
                (*moved, *self._answer(off, asked, "corrected")),
            ),
            Answer(
                "left",
                say("This phone's clock was right: leave them as they are"),
                tuple(self._answer(off, asked, "left")),
            ),
        ]

    def settle(self, asked: Asked) -> None:
        """Ask no more about these records: the answer is on the disk."""
        local = self._notebook.local
        off = next((each for each in self._pending() if self._is(each, asked)), None)
        if off is None:
            return
        local.put(_OFF, [each for each in self._pending() if each != off] or None)
        if local.get(_AGREED) == off["after"]:
            local.put(_AGREED, off["up_to"])

    def _answer(self, off: dict[str, Any], asked: Asked, what: str) -> Iterator[Draft]:
        notebook = self._notebook
        seconds = off["ahead_ms"] / 1000
        for begin in range(0, len(asked.records), _IDS):
            ids = list(asked.records[begin : begin + _IDS])
            body = {"records": ids, "off_by": seconds, "answer": what}
            yield Draft("answer_clock", notebook.moment(), notebook.keeper or "", body)

    def _is(self, off: dict[str, Any], asked: Asked) -> bool:
        return tuple(self._versions(off)) == asked.records

    def _pending(self) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self._notebook.local.get(_OFF, [])
        return found

    def _here(self) -> dict[str, Any] | None:
        """Return writer and seq of this phone's last record, None before the first."""
        writer = self._notebook.journal.writer
        heads = [h.seq for h in self._notebook.journal.vector() if h.writer.hex() == writer]
        return {"writer": writer, "seq": max(heads)} if heads else None

    def _versions(self, off: dict[str, Any]) -> dict[str, Version]:
        """Return the records to be asked about that still stand as this phone timed them."""
        roots = list(self._timed(off))
        about = {root.id: root for root in roots}
        corrections = self._notebook.book.corrections(tuple(about)) if about else []
        found = versions([*roots, *corrections])
        return {
            name: version
            for name, version in found.items()
            if not version.asks
            and not version.void
            and version.holds.happened == version.root.happened
        }

    def _timed(self, off: dict[str, Any]) -> Iterator[Record]:
        """Yield the roots that this phone wrote after `after`, up to `up_to`, in order."""
        after, up_to = off["after"], off["up_to"]
        parts = [(up_to["writer"], 0, up_to["seq"])]
        if after is not None and after["writer"] == up_to["writer"]:
            parts = [(up_to["writer"], after["seq"], up_to["seq"])]
        elif after is not None:
            # A new writer began in between; what the old one wrote last was this phone too.
            parts.insert(0, (after["writer"], after["seq"], 2**53))
        for writer, above, last in parts:
            for record in self._written(writer, above, last):
                if record.corrects is None and record.adds_to is None and record.kind not in _LOCAL:
                    yield record

    def _written(self, writer: str, above: int, last: int) -> Iterator[Record]:
        journal = self._notebook.journal
        heads = [head for head in journal.vector() if head.writer.hex() == writer]
        if not heads:
            return
        head = max(heads, key=lambda each: each.seq)
        for batch in batches(journal, head, above):
            for place, raw in enumerate(batch.records, batch.first):
                if place > last:
                    return
                record = decode(raw)
                if isinstance(record, Record):
                    yield record


#: Kinds whose time says nothing that anybody asks about.
_LOCAL = frozenset({"answer_clock", "loss"})


def _by(off: dict[str, Any]) -> By:
    # What an older version kept had heard of servers only.
    by: By = off.get("by", "server")
    return by


def _by_both(record: Record, off: dict[str, Any]) -> Phrase:
    return clock_words.both(_by(off), record.happened, _shifted(record.happened, off["ahead_ms"]))


def _shifted(moment: str, ahead_ms: int) -> str:
    """Return a moment of a clock that was so far ahead, as the other clock had it."""
    zone = moment[moment.index("[") + 1 : -1]
    return happened.format(happened.instant(moment) - ahead_ms * 1000, zone)


def _moved(version: Version, ahead_ms: int) -> Draft:
    held = version.holds
    return Draft(
        held.kind,
        _shifted(held.happened, ahead_ms),
        held.keeper,
        dict(held.body),
        apiary=held.apiary,
        hive=held.hive,
        colony=held.colony,
        corrects=version.root.id,
        heads=version.head_ids,
    )
