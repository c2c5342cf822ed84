"""How fast the app is: ``python tests/bench/bench_app.py``. Ends with 1 where a bar is missed.

Cold processes, taken in turn: an empty window of the same settings, the app with the demo season,
the app with ten years of a hundred hives, and the same where no sheet was kept for the day. Each
is over when its first frame was shown; of the app that frame must have today's right agenda on it,
worked out before by another process of the rules. Then touches: rounds in the app that holds ten
years.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(ROOT))

from fieldapp import bootstrap  # noqa: E402
from fieldapp.assets import folder as assets  # noqa: E402
from fieldapp.demo.herd import herd  # noqa: E402
from fieldapp.demo.play import prepare  # noqa: E402
from fieldapp.demo.play.clock import MORNING, Pace  # noqa: E402
from fieldapp.demo.season import KEEPERS_PHONE, TODAY, ZONE, Season, season  # noqa: E402
from fieldapp.husbandry.library import Library, load  # noqa: E402
from fieldapp.rounds.due import Due  # noqa: E402
from fieldapp.words import Speech  # noqa: E402

TURNS = 9
COMPILED = tempfile.TemporaryDirectory()
HIVES, YEARS = 100, 10


class Bars:
    """Prints each bar and remembers whether one was missed."""

    missed = False

    def say(self, what: str, is_: float, most: float, unit: str) -> None:
        """Print one."""
        holds = is_ <= most
        self.missed |= not holds
        print(f"  {what:58}{is_:8.2f} {unit:3} of {most:g}  {'holds' if holds else 'MISSED'}")


def years(library: Library, hives: int) -> Season:
    """Return ten years of many hives; the two phones last met before the last entry."""
    entries = tuple(herd(library, hives, YEARS))
    return Season("GB", ZONE, TODAY, entries, (entries[-1].at,))


def prepared(made: Season, folder: Path) -> tuple[Path, list[str]]:
    """Write a season on a phone whose states are kept; return its folder and today's agenda."""
    phone = prepare.phones(made, folder)[KEEPERS_PHONE]
    kit = bootstrap.bootstrap(
        phone, main=lambda work: work(), zone=ZONE, clock=Pace().clock(), entropy=lambda n: b"7" * n
    )
    speech = Speech()
    agenda = [speech(part) for line in Due(kit.notebook).lines() for part in (line.what, line.when)]
    bootstrap.close(kit)
    return phone, agenda


def unkept(phone: Path, folder: Path) -> Path:
    """Return a copy of a phone that lay unused for longer than sheets are kept ahead."""
    shutil.copytree(phone, folder)
    with sqlite3.connect(folder / bootstrap.BOOK) as book:
        book.execute("DELETE FROM sheet")
    return folder


def started(*folder: Path) -> dict:
    """Start a window or the app cold; return what its first frame showed and when, seconds."""
    began = time.monotonic_ns()
    morning = [int(MORNING.timestamp() * 1_000_000)] if folder else []
    told = child("app_child.py", *folder, *morning)
    told["first_s"] = (told["at_ns"] - began) / 1e9
    return told


def child(script: str, *words: object) -> dict:
    """Run a script of this folder in a process of its own; return what it told."""
    command = [sys.executable, str(HERE / script), *map(str, words)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": COMPILED.name}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # an installed program is compiled
    run = subprocess.run(
        command, check=False, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=600
    )
    if run.returncode:
        raise SystemExit(run.stderr[-4000:])
    return json.loads(run.stdout.splitlines()[-1])


def check(told: dict, agenda: list[str]) -> None:
    """End where the first frame did not have today's agenda on it."""
    shown = [text for text in told["texts"] if text in set(agenda)]
    if len(shown) < 2 or shown != agenda[: len(shown)]:
        raise SystemExit(f"Not today's agenda: {told['texts']}, but {agenda[:6]}")


def median(of: list[dict], what: str) -> float:
    """Return the median of one value."""
    return statistics.median(each[what] for each in of)


def starts(bars: Bars, phones: dict[str, tuple[Path, list[str]]], turns: int) -> None:
    """Measure first screens, in turn."""
    runs: dict[str, list[dict]] = {"empty window": [], **{name: [] for name in phones}}
    for turn in range(turns + 1):
        for name, run in runs.items():
            if name in phones:
                folder, agenda = phones[name]
                told = started(folder)
                check(told, agenda)
            else:
                told = started()
            if turn:  # the first of each warms the disk
                run.append(told)
    print(f"\nFirst screen, medians of {turns}, s (s of the processor; MB at the peak)")
    for name, run in runs.items():
        first, cpu, peak = (median(run, key) for key in ("first_s", "cpu_s", "peak_mb"))
        print(f"  {name:40}{first:7.3f} ({cpu:.3f}; {peak:.0f})")
    empty = median(runs["empty window"], "first_s")
    for name, most in zip(phones, (1.3, 1.6, None), strict=True):
        times = median(runs[name], "first_s") / empty
        if most is None:
            print(f"  {name}, times an empty window{times:18.2f} x")
        else:
            bars.say(f"{name}, times an empty window", times, most, "x")
    for name in phones:
        bars.say(f"{name}, memory", median(runs[name], "peak_mb"), 200, "MB")


def high(values: list[float]) -> float:
    """Return the value that a hundredth of these exceed."""
    return sorted(values)[int(len(values) * 0.99)]


def touches(bars: Bars, folder: Path, treatment: str) -> None:
    """Measure touches in the app that holds ten years."""
    told = child("app_taps.py", folder, treatment)
    widgets = told["widgets"]
    print(f"\nTouches, {len(widgets)} of them in rounds, ms (of the processor)")
    bars.say("touch to widgets set, median", statistics.median(widgets), 16, "ms")
    bars.say("touch to widgets set, p99", high(widgets), 50, "ms")
    for name, took in {"in rounds": "widgets", "on the way to them": "ways"}.items():
        busy = told[f"{took}_busy"]
        print(
            f"  {len(busy)} {name}: median {statistics.median(told[took]):.1f} "
            f"({statistics.median(busy):.1f}), p99 {high(told[took]):.1f} ({high(busy):.1f})"
        )
    raw, write = statistics.median(told["raws"]), statistics.median(told["writes"])
    bars.say("a tap's record on the disk", write, max(1.5 * raw, raw + 0.15), "ms")
    frame, empty = statistics.median(told["frames"]), statistics.median(told["empty_frames"])
    print(
        f"  a raw commit of the same bytes {raw:.2f}; a frame {frame:.1f}, of an empty {empty:.1f}"
    )
    bars.say("memory at the end", told["peak_mb"], 200, "MB")


def main() -> int:
    """Measure everything; return the exit status."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--turns", type=int, default=TURNS)
    parser.add_argument("--hives", type=int, default=HIVES)
    turns, hives = (arguments := parser.parse_args()).turns, arguments.hives
    library = load(assets("treatments"))
    bars = Bars()
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        one, many = season(library), years(library, hives)
        print(f"Records: {len(one.entries)} of the season, {len(many.entries)} of {hives} hives.")
        herd, agenda = prepared(many, folder / "herd")
        phones = {
            "the demo season": prepared(one, folder / "season"),
            f"ten years of {hives} hives": (herd, agenda),
            "the same, no sheet kept": (unkept(herd, folder / "unkept"), agenda),
        }
        starts(bars, phones, turns)
        touches(bars, herd, "Amitraz strips")
    return int(bars.missed)


if __name__ == "__main__":
    sys.exit(main())
