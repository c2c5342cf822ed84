"""Compares engine and oracle over random histories, shrinks what differs, and keeps it as a case.

python comparing.py 10000 20000        compare these seeds, on several days each
python comparing.py --shrink 4711      print the smallest history in which seed 4711 differs
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

from engine_view import Difference, compare
from histories import history

from fieldapp.journal.reading import decode
from fieldapp.journal.record import NotUnderstood, Record, encode

CASES = Path(__file__).parent / "cases"


class Case(NamedTuple):
    """A history in which the two once differed, who was right, and by which sentence."""

    name: str
    title: str
    right: str
    sentence: str
    days: tuple[date, ...]
    records: tuple[Record, ...]


def days_of(seed: int, day: date) -> tuple[date, ...]:
    """Return the days on which a history is asked: its own, and two others round it."""
    chance = Random(seed)
    return day, day + timedelta(chance.randint(-40, 40)), day + timedelta(chance.randint(50, 500))


def differences(seed: int) -> list[Difference]:
    """Return what differs in the history of a seed, on the first of its days where it does."""
    made = history(Random(seed))
    for day in days_of(seed, made.day):
        found = compare(made.records, day)
        if found:
            return found
    return []


def differing(seeds: Iterable[int]) -> list[int]:
    """Return the seeds whose histories are not answered alike."""
    return [seed for seed in seeds if differences(seed)]


def topics(found: Iterable[Difference]) -> set[str]:
    """Return what the differences are about: their topics, and what differs in an answer."""
    about = set()
    for key, one, other in found:
        if isinstance(one, dict) and isinstance(other, dict):
            about |= {f"{key[0]}: {what}" for what in one if one[what] != other.get(what)}
        else:
            about.add(key[0])
    return about


def shrink(records: Sequence[Record], day: date) -> list[Record]:
    """Drop records for as long as one and the same thing differs; return what is left."""
    left = list(records)
    about = min(topics(compare(left, day)))
    size = max(1, len(left) // 2)
    while size:
        place, dropped = 0, False
        while place < len(left):
            fewer = left[:place] + left[place + size :]
            if about in topics(compare(fewer, day)):
                left, dropped = fewer, True
            else:
                place += size
        size = size if dropped and size == 1 else size // 2
    return left


def read_case(path: Path) -> Case:
    """Return a kept case. Raises ValueError for a line that is no record."""
    head, *lines = path.read_bytes().splitlines()
    about: dict[str, Any] = json.loads(head)
    records = [decode(line) for line in lines]
    for record in records:
        if isinstance(record, NotUnderstood):
            raise ValueError(f"{path.name}: {record}")
    days = tuple(date.fromisoformat(day) for day in about["days"])
    known = tuple(record for record in records if isinstance(record, Record))
    return Case(path.stem, about["title"], about["right"], about["sentence"], days, known)


def write_case(case: Case) -> Path:
    """Keep a case for ever, one line a record as a journal has it."""
    about = {
        "title": case.title,
        "right": case.right,
        "sentence": case.sentence,
        "days": [day.isoformat() for day in case.days],
    }
    lines = [json.dumps(about, ensure_ascii=False).encode(), *map(encode, case.records)]
    path = CASES / f"{case.name}.jsonl"
    path.write_bytes(b"\n".join(lines) + b"\n")
    return path


def _main(arguments: list[str]) -> None:
    if arguments[0] == "--shrink":
        made = history(Random(int(arguments[1])))
        for day in days_of(int(arguments[1]), made.day):
            if compare(made.records, day):
                left = shrink(made.records, day)
                for record in sorted(left, key=lambda r: r.happened):
                    print(encode(record).decode())
                print(day, *compare(left, day), sep="\n")
                return
    for seed in range(int(arguments[0]), int(arguments[1])):
        found = differences(seed)
        if found:
            print(seed, sorted(topics(found)), flush=True)


if __name__ == "__main__":
    _main(sys.argv[1:])
