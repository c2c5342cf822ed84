"""Writes a season as its phones would have: one journal a phone, by the journal's own ways."""

from __future__ import annotations

from itertools import chain, pairwise
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
        entries = iter(season.entries)
        ends = pairwise(chain([0], season.meetings, [2**63]))
        waiting = next(entries, None)
        for begin, end in ends:
            if begin:
                _meet(list(phones.values()))
            while waiting is not None and waiting.at < end:
                phones[waiting.phone].write(waiting)
                waiting = next(entries, None)
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

    def write(self, entry: Entry) -> None:
        """Write one entry while the phone's clock shows what stands in it."""
        self._shows_ms = happened.instant(entry.draft.happened) // 1000
        self.journal.write([entry.draft])
        self._last = entry

    def finder(self) -> Finder | None:
        """Return who would sign a loss found now: whoever wrote last."""
        if self._last is None:
            return None
        draft = self._last.draft
        return Finder(f"{self._last.phone}'s phone", draft.keeper, draft.happened)


def _meet(phones: list[_Phone]) -> None:
    """Let all phones hold the same: the first syncs with each other one, then once more."""
    first, *others = phones
    for other in [*others, *others[:-1]]:
        ours, theirs = first.finder(), other.finder()
        if ours is not None and theirs is not None:
            sync(first.journal, Host(other.journal, theirs), ours)
