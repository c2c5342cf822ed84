"""Measures the rules: everything from records in memory, one more record, and a kept book.

One more record is a seeded mix: a tenth corrects old records, a twentieth unites, splits, moves
and carries supers between hives that stand in one apiary. The herd is as keepers have them:
no fewer than 24 hives, twelve an apiary, the more records the more hives.

Run by hand: ``python tests/bench/bench_book.py``; ``--quick`` takes a tenth of it. It prints
figures and ends with status 1 where a bar was missed. What runs in memory is measured in
seconds of the processor, so that a busy machine does not decide; opening in seconds of the wall.
The thousand are taken three times by three operations, and of each record the least counts:
what others do to the caches falls out, what the record itself costs does not.
"""

from __future__ import annotations

import argparse
import gc
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "husbandry")]

from rules_season import Season, name  # noqa: E402

from fieldapp.book.book import Book  # noqa: E402
from fieldapp.book.collecting import uncollected  # noqa: E402
from fieldapp.husbandry.agenda import hive_agenda  # noqa: E402
from fieldapp.husbandry.lines import grouped  # noqa: E402
from fieldapp.husbandry.operation import Operation  # noqa: E402
from fieldapp.journal import chain  # noqa: E402
from fieldapp.journal.batches import Batch  # noqa: E402
from fieldapp.journal.receiving import receive  # noqa: E402
from fieldapp.journal.record import Record, encode  # noqa: E402
from fieldapp.journal.store import Journal  # noqa: E402

YEARS = 10
TIMES = 3
APIARY = 12
TODAY = date(2025, 12, 31)
BY_BROOD = [
    {"when": "no or hardly any brood", "least": 42, "most": 42},
    {"when": "brood", "least": 70, "most": 70},
]
THREE = {"least": 3, "usual": 3, "most": 4}


def season(hives: int, records: int, years: int = YEARS) -> tuple[Season, list[str], list[str]]:
    """Return years of so many hives with so many records each; terms and hives by id."""
    made, chance = Season(), random.Random(7)
    yearly = {"number": 4, "counts": "courses", "per": "year"}
    terms = [
        made.terms(
            "GB/1/1/vapour/x",
            gap={"least": 4, "target": 5, "most": 7},
            applications=THREE,
            supers="off",
            rest={"days": 20},
            limit=yearly,
        ),
        made.terms("GB/2/1/strip/y", form="pieces", period=14, supers="off", stay=BY_BROOD),
        made.terms("GB/3/1/trickle/z", applications={"least": 1, "most": 1}, supers="off"),
    ]
    names = [name(0x100000 + number) for number in range(hives)]
    for number, hive in enumerate(names):
        apiary = name(0x200000 + number // APIARY)
        made.add("hive", "2016-01-01", {"number": str(number)}, hive, apiary=apiary)
        for year in range(2026 - years, 2026):
            first = date(year, 1, 10)
            _year(made, terms, hive, f"m{number}", first, records // years, chance)
    return made, terms, names


def _year(
    made: Season,
    terms: list[str],
    hive: str,
    mark: str,
    first: date,
    records: int,
    chance: random.Random,
) -> None:
    def day(after: int) -> str:
        return (first + timedelta(days=after)).isoformat()

    made.apply(terms[2], day(0), hive)
    made.add("super_on", day(110), {"mark": mark}, hive)
    made.add("super_off", day(200), {"mark": mark}, hive)
    for after in (203, 208, 213):
        made.apply(terms[0], day(after), hive)
    made.apply(terms[1], day(230), hive, pieces=2)
    made.pieces("out", terms[1], day(300), 2, hive)
    others = [
        ("look", {"brood": "yes", "seams": 8}),
        ("look", {"brood": "none", "seams": 6}),
        ("count", {"way": "wash", "mites": 3, "bees": 300}),
        ("feed", {"what": "syrup"}),
        ("day_after", {"board": "0-20"}),
    ]
    for number in range(records - 8):
        kind, body = chance.choice(others)
        made.add(kind, day(20 + number * 11 % 320), body, hive)


def report(what: str, value: float, unit: str, bar: float | None, missed: list[str]) -> None:
    """Print a figure beside its bar."""
    told = "" if bar is None else f"   bar {bar:g} {unit}"
    print(f"{what:58} {value:9.2f} {unit}{told}", flush=True)
    if bar is not None and value > bar:
        missed.append(what)


def everything(hives: int, missed: list[str]) -> None:
    """From decoded records in memory to states and today's agenda."""
    records = season(hives, 400)[0].records
    with uncollected():
        begin = time.process_time()
        operation = Operation()
        operation.take(records)
        items = (i for hive in operation.hives for i in hive_agenda(operation.state(hive), TODAY))
        lines = grouped(items)
        took = time.process_time() - begin
    bar = 4.0 * len(records) / 400_000
    report(f"{len(records)} records of {hives} hives, {len(lines)} lines", took, "s", bar, missed)


def one_more(hives: int, records: int, years: int, times: int, missed: list[str]) -> None:
    """After one more record: a seeded mix of corrections, joins of hives and daily work."""
    made, terms, names = season(hives, records, years)
    total, chance = len(made.records), random.Random(11)
    old = [r for r in made.records if r.kind in ("application", "pieces", "look", "count")]
    more = []
    for number in range(times):
        before = len(made.records)
        _another(made, terms, names, old, chance, TODAY + timedelta(days=number * 365 // times))
        more.append(made.records[before:])
    runs = [_run(made.records[:total], more) for _ in range(TIMES)]
    spent = sorted(map(min, zip(*runs, strict=True)))
    what = f"one more of {total}, {hives} hives, {records} each: "
    report(what + "median", spent[len(spent) // 2], "ms", None, missed)
    report(what + "p99", spent[len(spent) * 99 // 100], "ms", 5.0, missed)


def _run(records: list[Record], more: list[list[Record]]) -> list[float]:
    """Return how long one operation took for each of `more`, in milliseconds."""
    gc.collect()  # The operation of the run before, so that one is in memory at a time.
    operation, spent = Operation(), []
    with uncollected():
        operation.take(records)
        for each in more:
            begin = time.process_time()
            operation.take(each)
            spent.append((time.process_time() - begin) * 1000)
    return spent


def _another(
    made: Season,
    terms: list[str],
    names: list[str],
    old: list[Record],
    chance: random.Random,
    when: date,
) -> None:
    pick, place, day = chance.random(), chance.randrange(len(names)), when.isoformat()
    hive, first = names[place], place - place % APIARY
    other = chance.choice([each for each in names[first : first + APIARY] if each != hive])
    if pick < 0.10:
        record = chance.choice(old)
        moved = date.fromisoformat(record.day) + timedelta(days=1)
        heads = tuple(r.id for r in made.records if r.corrects == record.id)
        made.correct(record.id, heads, day=moved.isoformat())
    elif pick < 0.15:
        kind, body = chance.choice(
            [
                ("split", {"to_hive": other, "to_colony": name(chance.getrandbits(40))}),
                ("unite", {"from_hive": other, "from_colony": other}),
                ("transfer", {"to_hive": other, "combs": "with combs"}),
                ("super_carried", {"to_hive": other, "count": 1}),
            ]
        )
        made.add(kind, day, body, hive, colony=hive)
    elif pick < 0.45:
        made.apply(chance.choice(terms), day, hive, pieces=2)
    elif pick < 0.60:
        made.pieces("out", terms[1], day, 2, hive)
    elif pick < 0.85:
        made.add("look", day, {"brood": "yes"}, hive)
    else:
        mark = f"m{chance.randrange(first, min(first + APIARY, len(names)))}"
        made.add("super_on", day, {"mark": mark}, hive)


def kept_book(hives: int, missed: list[str]) -> None:
    """From a file with kept states to today's agenda, in a process of its own."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder)
        _fill(path / "journal.db", season(hives, 400)[0].records)
        begin = time.perf_counter()
        _agenda(path)
        report(f"first opening of {hives} hives", time.perf_counter() - begin, "s", None, missed)
        paths = [str(ROOT), str(Path(__file__).parent)]
        code = (
            # The peak that getrusage tells is the parent's: it outlives exec.
            "r=lambda:int(next(l for l in open('/proc/self/status') if 'VmHWM' in l).split()[1]);"
            f"import sys,time;sys.path[:0]={paths!r};"
            "import bench_book as b;from pathlib import Path;m=r();c=time.process_time;"
            f"t,p=time.perf_counter(),c();b._agenda(Path({folder!r}));"
            "print(time.perf_counter()-t,c()-p,(r()-m)/1024)"
        )
        run = [sys.executable, "-c", code]
        out = subprocess.run(run, check=True, capture_output=True, text=True).stdout
        took, busy, memory = map(float, out.split())
        report(f"kept states of {hives} hives to today's agenda", took, "s", 0.5, missed)
        report("of it the processor's", busy, "s", None, missed)
        report("memory for it", memory, "MB", 60, missed)


def _agenda(path: Path) -> None:
    clock: Callable[[], int] = lambda: 1_790_000_000_000  # noqa: E731
    with Journal.open(path / "journal.db", now_ms=clock, entropy=os.urandom) as journal:
        book = Book.open(journal, path / "book.db")
        book.agenda(TODAY)
        book.close()


def _fill(path: Path, records: list[Record]) -> None:
    writer, digest = bytes(16), chain.start(bytes(16))
    with Journal.open(path, now_ms=lambda: 1_790_000_000_000, entropy=os.urandom) as journal:
        for first in range(0, len(records), 1000):
            raws = tuple(encode(record) for record in records[first : first + 1000])
            before = digest
            for raw in raws:
                digest = chain.link(digest, raw)
            receive(journal, [Batch(writer, first + 1, before, digest, raws)])


def main() -> int:
    """Run all of it; return 1 where a bar was missed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="a tenth of it")
    parser.add_argument("--million", action="store_true", help="also with a million records")
    chosen = parser.parse_args()
    part = 10 if chosen.quick else 1
    missed: list[str] = []
    everything(1000 // part, missed)
    for hives, records, years in ((24, 42, 5), (100, 100, 10), (250, 400, 10)):
        one_more(hives, records, years, 1000, missed)
    for records in (100, 400, 1000):
        one_more(96, records, 10, 1000, missed)
    if chosen.million:
        one_more(1000, 1000, 10, 1000, missed)
    kept_book(1000 // part, missed)
    print("missed: " + ", ".join(missed) if missed else "every bar was met")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
