"""Writes a season as its phones would have: one journal a phone, by the journal's own ways."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from random import Random

from fieldapp.demo.scene import Entry
from fieldapp.demo.season import SEED, Season
from fieldapp.journal import happened
from fieldapp.journal.losses import Finder
from fieldapp.journal.merging import sync
from fieldapp.journal.replica import Host
from fieldapp.journal.store import Journal

JOURNAL = "journal.db"


def write_phones(season: Season, folder: Path, seed: int = SEED) -> dict[str, Path]:
    """Write the journal of each phone of `season` into a folder of its own below `folder`.

    At every meeting the phones sync with each other. Returns the journals' paths by phone.
    The same season and seed give the same records to the last byte.
    """
    names = sorted({entry.phone for entry in season.entries})
    phones = {name: _Phone(folder / name / JOURNAL, f"{seed}/{name}") for name in names}
    try:
        for entries in _between(season):
            for _, together in groupby(entries, key=lambda entry: (entry.phone, entry.day)):
                written = list(together)
                phones[written[0].phone].write(written)
            if entries[-1] is not season.entries[-1]:
                _meet(list(phones.values()))
    finally:
        for phone in phones.values():
            phone.journal.close()
    return {name: folder / name / JOURNAL for name in names}


class _Phone:
    """A phone whose clock shows what the plan says, and whose chance comes from a seed."""

    def __init__(self, path: Path, seed: str) -> None:
        self._shows_ms = 0
        self._last: Entry | None = None
        random = Random(seed)  # noqa: S311  # the same bytes again, on purpose
        self.journal = Journal.open(path, now_ms=lambda: self._shows_ms, entropy=random.randbytes)

    def write(self, entries: list[Entry]) -> None:
        """Write a day's entries in one transaction, the clock showing when the last was made."""
        self._last = entries[-1]
        self._shows_ms = happened.instant(self._last.draft.happened) // 1000
        self.journal.write([entry.draft for entry in entries])

    def finder(self) -> Finder | None:
        """Return who would sign a loss found now: whoever wrote last."""
        if self._last is None:
            return None
        draft = self._last.draft
        return Finder(f"{self._last.phone}'s phone", draft.keeper, draft.happened)


def _between(season: Season) -> Iterator[list[Entry]]:
    """Yield the entries in runs between which all phones met; no run is empty."""
    ends = [*season.meetings, 2**63]
    run: list[Entry] = []
    for entry in season.entries:
        if run and entry.at >= ends[0]:
            yield run
            run = []
        while entry.at >= ends[0]:
            del ends[0]
        run.append(entry)
    yield run


def _meet(phones: list[_Phone]) -> None:
    """Let all phones hold the same: the first syncs with each other one, then once more."""
    first, *others = phones
    for other in [*others, *others[:-1]]:
        ours, theirs = first.finder(), other.finder()
        if ours is not None and theirs is not None:
            sync(first.journal, Host(other.journal, theirs), ours)
