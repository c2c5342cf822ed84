"""What must hold of any history: order, repetition, increments, corrections, shifts."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from rules_random import BY_BROOD, HIVES, looked_after, random_history
from rules_season import HIVE, OTHER, Season, name

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.operation import Operation, fold_all
from fieldapp.husbandry.progress import next_window, window_of
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.kinds import KINDS
from fieldapp.journal.record import Record

SEEDS = st.integers(0, 10**9)


def test_the_histories_write_every_kind_that_touches_a_hive() -> None:
    """Read by a rule or by none: each stands in the way of others in a log, a file, a book."""
    written = {record.kind for seed in range(200) for record in random_history(seed)}
    touching = {name for (name, _), kind in KINDS.items() if {"hive", "adds_to"} & {*kind.needs}}
    assert touching - written == set()


@given(SEEDS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_arrival_order_and_repetition_never_matter(seed: int, order: int) -> None:
    """Any order, with any record twice, ends in the same states."""
    records = random_history(seed)
    shuffled = [*records, *Random(order).choices(records, k=5)]
    Random(order).shuffle(shuffled)
    assert fold_all(shuffled) == fold_all(records)


@given(SEEDS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_incremental_equals_from_scratch(seed: int, order: int) -> None:
    """Record by record, in any order, ends where folding all at once does."""
    records = random_history(seed)
    shuffled = list(records)
    Random(order).shuffle(shuffled)
    operation = Operation()
    for record in shuffled:
        operation.take([record])
    whole = fold_all(records)
    assert operation.hives == sorted(whole)
    assert {hive: operation.state(hive) for hive in whole} == whole


@pytest.mark.parametrize("change", [{"void": True}, {"hive": HIVE}])
def test_a_hive_that_was_named_by_mistake_is_known_whatever_comes_first(
    change: dict[str, Any],
) -> None:
    """The record, or the correction that takes it back or moves it to the right hive."""
    season = Season()
    nowhere = "00000000-0000-7000-8000-0000000000ff"
    root = season.add("death", "2026-05-01", {}, nowhere)
    season.correct(root, **change)
    there = fold_all(season.records)
    turned = fold_all([*season.records[:-2], season.records[-1], season.records[-2]])
    assert turned == there
    assert there[nowhere].dead is None


def test_a_look_that_was_elsewhere_goes_along_no_longer() -> None:
    """It went along with the combs; the correction that says where it was made comes last."""
    season = Season()
    terms = season.terms(form="pieces", stay=BY_BROOD, supers="off")
    season.apply(terms, "2026-03-15", hive=OTHER, pieces=2)
    look = season.add("look", "2026-03-19", {"brood": "none"}, OTHER)
    season.add("transfer", "2026-04-01", {"to_hive": HIVE, "combs": "with combs"}, OTHER)
    season.add("split", "2026-05-23", {"to_hive": OTHER, "to_colony": name(0xC1)}, colony=HIVE)
    season.correct(look, hive=HIVE)
    operation = Operation()
    for record in season.records:
        operation.take([record])
    whole = fold_all(season.records)
    assert {hive: operation.state(hive) for hive in whole} == whole
    assert (whole[HIVE].looks, whole[OTHER].looks) == ((), ())


def test_an_earlier_record_of_a_day_that_arrives_last() -> None:
    """What was the first of its day becomes the second: the fold begins again before the day."""
    season = Season()
    two = {"least": 2, "usual": 2, "most": 2}
    long = season.terms(gap={"least": 4, "most": 7}, applications=two, period=9)
    for day in ("2026-05-01", "2026-06-10", "2026-06-16", "2026-08-01"):
        season.apply(long, day, at="15:00:00")
    season.apply(long, "2026-06-16", at="09:00:00", part=True)
    operation = Operation()
    for record in season.records:
        operation.take([record])
    assert operation.state(HIVE) == season.state()
    assert season.state().courses[1].k == 1


@given(SEEDS, SEEDS)
@settings(max_examples=60, deadline=None)
@example(9279, 9280)
def test_batches_end_where_folding_all_at_once_does(seed: int, order: int) -> None:
    """Several records at once, of hives that hand over to each other."""
    records, chance = random_history(seed), Random(order)
    chance.shuffle(records)
    operation = Operation()
    while records:
        size = chance.randint(1, 12)
        batch, records = records[:size], records[size:]
        operation.take(batch)
        chance.random()
    whole = fold_all(random_history(seed))
    assert {hive: operation.state(hive) for hive in whole} == whole


@given(SEEDS, st.integers(0, 10**6))
@settings(max_examples=40, deadline=None)
def test_hives_that_a_record_does_not_name_as_folded_do_not_change(seed: int, pick: int) -> None:
    """Every hive whose state changes is among those that `take` returns."""
    records = random_history(seed)
    late = records.pop(pick % len(records))
    operation = Operation()
    operation.take(records)
    before = {hive: operation.state(hive) for hive in operation.hives}
    touched = operation.take([late])
    for hive in operation.hives:
        if operation.state(hive) != before.get(hive, HiveState(hive)):
            assert hive in touched


def corrected(record: Record, right: Record, number: int) -> Record:
    """Return a correction that makes `record` what `right` is."""
    return right._replace(
        id=f"00000000-0000-7000-9000-{number:012x}",
        stamp=f"{0xF00000 + number:016x}",
        corrects=record.id,
        heads=(),
    )


WRONG = ("day", "hive", "count", "pieces")


def mistaken(right: Record, what: str, by: int) -> Record:
    """Return a record as it was logged by mistake: another day, hive, number."""
    if what == "hive" and right.hive is not None:
        return right._replace(hive=HIVES[(HIVES.index(right.hive) + 1 + by % 2) % 3])
    if what in right.body:
        return right._replace(body={**right.body, what: right.body[what] + by})
    day = date.fromisoformat(right.day) - timedelta(days=by)
    return right._replace(happened=day.isoformat() + right.happened[10:])


@given(SEEDS, st.integers(0, 10**6), st.sampled_from(WRONG), st.integers(1, 40))
@settings(max_examples=120, deadline=None)
def test_a_correction_equals_having_entered_it_right(
    seed: int, pick: int, what: str, by: int
) -> None:
    """A record logged on a wrong day, hive or number and corrected is as if logged right."""
    records = random_history(seed, corrections=False)
    rights = [r for r in records if r.hive is not None and r.kind != "hive"]
    if not rights:
        return
    right = rights[pick % len(rights)]
    wrong = mistaken(right, what, by)
    others = [record for record in records if record.id != right.id]
    by_correction = fold_all([*others, wrong, corrected(wrong, right, pick)])
    assert by_correction == fold_all(records)


@given(SEEDS, st.integers(0, 10**6))
@settings(max_examples=60, deadline=None)
def test_a_void_equals_never_having_logged_it(seed: int, pick: int) -> None:
    """Apart from a hive that no other record tells of."""
    records = random_history(seed, corrections=False)
    voided = records[pick % len(records)]
    gone = corrected(voided, voided, pick)._replace(void=True)
    without = fold_all(record for record in records if record.id != voided.id)
    voiding = fold_all([*records, gone])
    for hive, state in without.items():
        assert voiding[hive] == state


@given(SEEDS, st.integers(0, 500))
@settings(max_examples=30, deadline=None)
def test_items_never_lack_a_word_or_a_reason(seed: int, offset: int) -> None:
    """Every item names its task, why, and the records or the text on which that rests."""
    day = date(2026, 1, 1) + timedelta(days=offset)
    for state in fold_all(looked_after(seed)).values():
        for item in hive_agenda(state, day):
            assert item.what.text
            assert item.reasons
            assert all(reason.records or reason.standing for reason in item.reasons)


@given(SEEDS, st.integers(0, 300))
@settings(max_examples=120, deadline=None)
def test_all_days_move_by_one_when_all_inputs_do(seed: int, offset: int) -> None:
    """Windows and periods given in days, away from the ends of years, and the agenda with them."""
    records = random_history(seed, in_days_only=True)
    before, after = fold_all(records), fold_all([_moved(record) for record in records])
    day = date(2026, 1, 15) + timedelta(days=offset)
    for hive, state in before.items():
        assert _days(after[hive], day + timedelta(days=1), 0) == _days(state, day, 1)


def _days(state: HiveState, day: date, more: int) -> list[Any]:
    """Return every day that a state tells of, each so many days later."""

    def later(each: date | int | None) -> int | None:
        number = each.toordinal() if isinstance(each, date) else each
        return None if number is None else number + more

    asked = day.toordinal()
    windows = [window_of(each, state, asked) for each in state.exposures]
    nexts = [next_window(course) for course in state.courses]
    return [
        [(later(row.first), later(row.last)) for row in state.closed],
        [(later(c.first), later(c.last), c.k, c.ended, c.flags) for c in state.courses],
        [window and [*map(later, window)] for window in nexts],
        [(later(each.first), later(each.last_out)) for each in state.exposures],
        [w and (w.condition, later(w.least), later(w.most), later(w.decides_on)) for w in windows],
        [(each.mark, each.exposed, each.certain) for each in state.supers],
        [
            (i.task, i.treatment, i.timing, later(i.first), later(i.target), later(i.last))
            for i in hive_agenda(state, day)
        ],
    ]


def _moved(record: Record) -> Record:
    day = date.fromisoformat(record.day) + timedelta(days=1)
    return record._replace(happened=day.isoformat() + record.happened[10:])


@pytest.mark.long
def test_incremental_equals_from_scratch_at_length() -> None:
    """Three thousand histories, record by record in any order."""
    for seed in range(3000):
        test_incremental_equals_from_scratch.hypothesis.inner_test(seed, seed + 1)
