"""The hives of one walk, and what the records say was done to each in this round."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from fieldapp.book import Entry, Stop
from fieldapp.journal.corrections import version
from fieldapp.journal.record import Record
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, say

Mark = Literal["open", "done", "skipped"]

#: Reasons for which a hive is passed over, as the record has them, in the trade's words.
WHY: dict[str, Phrase] = {
    "supers on": say("supers on"),
    "dead": say("dead"),
    "too weak": say("too weak"),
    "queenless": say("queenless"),
    "too hot": say("too hot"),
    "too cold": say("too cold"),
    "ran out": say("ran out"),
    "bees too bad": say("bees too bad"),
    "no bees at home": say("no bees at home"),
    "not needed": say("not needed"),
    "other": say("other reason"),
}


class Spot(NamedTuple):
    """One hive of the walk: what was done to it in this round, and by which record.

    `record` is what holds for it, `root` the record that a correction names, `heads` those
    that a correction made now would replace. `since` is all that was recorded of it since the
    round began and holds, newest first.
    """

    hive: str
    number: str
    mark: Mark
    record: Record | None = None
    root: Record | None = None
    heads: tuple[str, ...] = ()
    since: tuple[Entry, ...] = ()

    @property
    def why(self) -> Phrase | None:
        """Why it was skipped."""
        if self.mark != "skipped" or self.record is None:
            return None
        return WHY.get(self.record.body.get("why", ""), say("other reason"))


def read_spot(notebook: Notebook, walk: Record, hive: str, number: str) -> Spot:
    """Return where a hive stands in a round, from what was recorded since it began."""
    since = tuple(each for each in notebook.book.history(hive, walk.stamp) if not each.void)
    for entry in since:
        if entry.root.body.get("round") != walk.id:
            continue
        if entry.root.kind in ("application", "pieces"):
            return spot_of(hive, number, "done", entry)._replace(since=since)
        if entry.root.kind == "skip":
            return spot_of(hive, number, "skipped", entry)._replace(since=since)
    return Spot(hive, number, "open", since=since)


def spot_of(hive: str, number: str, mark: Mark, entry: Entry) -> Spot:
    """Return a hive's place in the walk by the entry of its history that marks it."""
    heads = version(entry.root, entry.corrections).head_ids if entry.corrections else ()
    return Spot(hive, number, mark, entry.holds, entry.root, heads)


def walk_order(stops: Sequence[Stop]) -> list[str]:
    """Return the hives that a round can walk, in order."""
    return [stop.hive for stop in stops if not stop.dead and not stop.ended]
