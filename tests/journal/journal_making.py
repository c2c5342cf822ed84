"""Journals, drafts and chance for the journal's tests, all from a seed."""

from __future__ import annotations

import random
from pathlib import Path

from fieldapp.journal import happened
from fieldapp.journal.corrections import versions
from fieldapp.journal.holes import holes
from fieldapp.journal.losses import Finder
from fieldapp.journal.record import Draft
from fieldapp.journal.replica import Host
from fieldapp.journal.store import Journal

KEEPER = "0197a000-0000-7000-8000-000000000001"
APIARY = "0197a000-0000-7000-8000-000000000002"
HIVE = "0197a000-0000-7000-8000-000000000007"
OTHER_HIVE = "0197a000-0000-7000-8000-000000000008"
TERMS = "0197a000-0000-7000-8000-000000000009"
TREATMENT = "GB/example/1/oxalic acid/trickle"
START_MS = 1_780_000_000_000
WHEN = "2026-07-04T08:30:00+01:00[Europe/London]"
FINDER = Finder("the keeper's phone", KEEPER, WHEN)


class Clock:
    """A clock that goes on a second with each look, and can be set."""

    def __init__(self, ms: int = START_MS) -> None:
        self.ms = ms

    def __call__(self) -> int:
        self.ms += 1000
        return self.ms


class Device:
    """A phone or server: a journal file, a clock, chance from a seed; can be shut and opened."""

    def __init__(self, path: Path, seed: int = 0, server: bool = False) -> None:
        self.path = path
        self.clock = Clock()
        self.chance = random.Random(seed)
        self.server = server
        self.journal = self.opened()

    def opened(self, new_writer: bool = False) -> Journal:
        self.journal = Journal.open(
            self.path,
            now_ms=self.clock,
            entropy=self.chance.randbytes,
            new_writer=new_writer or self.server,
        )
        return self.journal

    @property
    def host(self) -> Host:
        return Host(self.journal, FINDER)


def note(words: str = "as usual", **envelope: str) -> Draft:
    """Return a small draft: a hive's look in words."""
    return Draft("look", WHEN, KEEPER, {"words": words}, apiary=APIARY, hive=HIVE, **envelope)


def application(hive: str = HIVE, instant_s: int = START_MS // 1000, **more: object) -> Draft:
    """Return a draft of an application of about 400 bytes when written."""
    return Draft(
        "application",
        happened.format(instant_s * 1_000_000, "Europe/London"),
        KEEPER,
        {"treatment": TREATMENT, "terms": TERMS, "supers": "off", "seams": 6.5, **more},
        apiary=APIARY,
        hive=hive,
    )


def texts(journal: Journal) -> list[str]:
    """Return the words of all looks that count, sorted."""
    return sorted(r.body["words"] for _, r in journal.arrivals() if r.kind == "look")


def holds(device: Device) -> dict[str, object]:
    """Return what a journal holds, as the tests compare it."""
    journal = device.journal
    return {
        "vector": journal.vector().hash().hex(),
        "heads": sorted([h.writer.hex(), h.seq, h.digest.hex()] for h in journal.vector()),
        "records": [[arrival, *record] for arrival, record in journal.arrivals()],
        "not_understood": [[k.writer, k.seq, k.raw.hex()] for k in journal.not_understood()],
        "holes": [list(hole) for hole in holes(journal)],
        "remarks": [list(remark) for remark in journal.remarks()],
        "asks": [v.root.id for v in versions(r for _, r in journal.arrivals()).values() if v.asks],
    }
