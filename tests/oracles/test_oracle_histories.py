"""Random histories are valid, varied and answered by the oracle, the same for every order."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest
from histories import History, history
from plain_rules import answers
from record_maker import check

SEEDS = 300
SITUATIONS = (
    *("application", "pieces", "look", "plan", "course_stop", "period", "queen", "colony"),
    *("super_on", "super_off", "super_carried", "super_emptied", "comb_up", "harvest"),
    *("split", "unite", "swarm", "transfer", "death", "same_as", "answer_twice", "answer_joins"),
    *("answer_split", "correction", "void", "corrected day", "corrected number"),
    *("corrected again", "side by side", "side by side, answered", "a head before it arrives"),
    *("twice", "twice, one", "twice, parted", "twice, answer names too few"),
    *("own plan", "part dose", "stopped", "pieces not counted", "forgotten", "out in part"),
    *("lost, outside the hive", "lost, every box searched", "lost, not found"),
    *("pieces moved", "pieces replaced", "pieces found", "more out than in"),
    *("look none", "look hardly any", "look yes", "look not seen"),
    *("supers seen on", "supers seen off", "supers seen not known"),
    *("super marked", "super unmarked", "transfer with combs", "transfer bees only"),
    *("transfer not known", "period by keeper", "period by veterinarian", "period by authority"),
    *("period by label in hand", "another zone", "29 February", "year end", "clocks changed"),
    *("feed", "skip", "board", "day_after", "count"),
    *("note", "photo", "voice", "position", "weighed"),
    "south of the equator",
)
STATES = {
    *("united", "stopped", "left with the swarm", "pieces in", "complete"),
    *("broken off", "running", "taken out early", "stay not known"),
}
FLAGS = {
    *("early", "cover broken", "over label", "too soon", "rest not known", "limit not known"),
    *("range not known", "timing not known", "part dose", "differs from label"),
    *("taken out early", "stay not known"),
}


@pytest.fixture(scope="module")
def made() -> list[History]:
    return [history(Random(seed)) for seed in range(SEEDS)]


def test_a_seed_always_makes_the_same_history(made: list[History]) -> None:
    assert history(Random(7)) == made[7]


def test_every_record_passes_its_kinds_check(made: list[History]) -> None:
    for one in made:
        for record in one.records:
            check(record)


def test_every_situation_comes_up(made: list[History]) -> None:
    seen: Counter[str] = Counter()
    for one in made:
        seen += one.seen
    assert [what for what in SITUATIONS if not seen[what]] == []


def test_every_state_flag_and_question_comes_up(made: list[History]) -> None:
    """The histories reach everything that the oracle can say."""
    found = [answers(one.records, one.day) for one in made]
    courses = [c for a in found for of_hive in a.courses.values() for c in of_hive]
    pieces = [e for a in found for of_hive in a.exposures.values() for e in of_hive]
    assert {course.state for course in courses} == STATES
    assert {flag for course in courses for flag in course.flags} >= FLAGS
    assert {d.timing for a in found for of_hive in a.due.values() for d in of_hive} == {
        *("waiting", "due", "late", "ask")
    }
    assert {e.timing for e in pieces} == {"waiting", "due", "late", None}
    assert {e.condition for e in pieces} == {
        *("any", "no or hardly any brood", "brood", "not known")
    }
    assert {flag for e in pieces for flag in e.flags} >= {"more out than in", "not found"}
    ends = [last is None for a in found for spans in a.closed.values() for _, last in spans]
    assert set(ends) == {True, False}
    assert {certain for a in found for certain in a.supers.values()} == {True, False}
    assert any(a.held for a in found)
    assert {question[0] for a in found for question in a.questions} == {
        *("heads", "twice", "joins", "split", "unite")
    }


@pytest.mark.parametrize("seed", range(25))
def test_order_and_repetition_of_arrival_never_matter(seed: int, made: list[History]) -> None:
    one = made[seed]
    records = [*one.records, *one.records[:5]]
    Random(seed).shuffle(records)
    assert answers(records, one.day) == answers(one.records, one.day)
