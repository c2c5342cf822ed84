"""Engine and oracle, written apart from the same rules, answer every history alike."""

from __future__ import annotations

import multiprocessing
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from datetime import date
from pathlib import Path
from random import Random

import pytest

sys.path.append(str(Path(__file__).parents[1] / "book"))

from comparing import CASES, Case, days_of, differences, differing, read_case
from engine_view import compare, of_engine, of_oracle
from histories import history
from plain_rules import answers
from sleeping import sleeps_and_wakes

from fieldapp.husbandry.operation import Operation, fold_all
from fieldapp.husbandry.state import Question
from fieldapp.journal.corrections import versions

SHORT, LONG, BATCH = 500, 10_000, 100
KEPT = [read_case(path) for path in sorted(CASES.glob("*.jsonl"))]


@pytest.mark.parametrize("start", range(0, SHORT, BATCH))
def test_random_histories_are_answered_alike(start: int) -> None:
    """Courses, windows, pieces, closed days, supers, lots and questions, on three days each."""
    for seed in range(start, start + BATCH):
        assert differences(seed) == [], f"seed {seed}"


@pytest.mark.long
def test_ten_thousand_histories_are_answered_alike() -> None:
    """The same over ten thousand histories, on all processors."""
    batches = [range(start, start + BATCH) for start in range(SHORT, LONG, BATCH)]
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(os.cpu_count(), mp_context=context) as pool:
        assert [seed for found in pool.map(differing, batches) for seed in found] == []


@pytest.mark.parametrize("case", KEPT, ids=[case.name for case in KEPT])
def test_what_once_differed_is_answered_alike(case: Case) -> None:
    """Every history in which the two once differed."""
    assert case.right in ("engine", "oracle", "neither")
    for day in case.days:
        assert compare(case.records, day) == [], case.title


@pytest.mark.parametrize("seed", range(40))
def test_record_by_record_ends_where_all_at_once_does(seed: int) -> None:
    """The engine's states do not depend on the order of arrival, in these histories too."""
    made = history(Random(seed))
    records = list(made.records)
    Random(seed + 1).shuffle(records)
    operation = Operation()
    for record in records:
        operation.take([record])
    assert operation.heads() == [
        Question("heads", (root,)) for root, each in sorted(versions(records).items()) if each.asks
    ]
    whole = fold_all(made.records)
    assert operation.hives == sorted(whole)
    assert {hive: operation.state(hive) for hive in whole} == whole


@pytest.mark.parametrize("seed", range(15))
def test_a_book_that_slept_answers_as_one_that_never_did(tmp_path: Path, seed: int) -> None:
    """Hives of these histories sleep in a file and wake beside whatever else was logged."""
    made = history(Random(seed))
    sleeps_and_wakes(tmp_path, list(made.records), Random(seed + 1), made.day)


def test_cases_are_kept() -> None:
    assert len(KEPT) > 20
    assert len({case.title for case in KEPT}) == len(KEPT)


def test_a_comparison_can_fail() -> None:
    """A history laid beside the same one without its applications differs."""
    made = history(Random(7))
    fewer = [record for record in made.records if record.kind != "application"]
    assert of_oracle(answers(made.records, made.day)) != of_engine(fewer, made.day)


def test_every_history_is_asked_on_three_days() -> None:
    assert len(set(days_of(7, date(2025, 1, 1)))) == 3
