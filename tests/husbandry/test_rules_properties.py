"""What must hold of any history: order, repetition, increments, corrections, causes, shifts."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

import portion
import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import example, given, settings
from hypothesis import strategies as st
from rules_random import random_history
from rules_season import HIVE, Season

from fieldapp.husbandry.agenda import hive_agenda
from fieldapp.husbandry.closing import joined
from fieldapp.husbandry.days import add_months
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.operation import Operation, fold_all
from fieldapp.husbandry.state import Cause, HiveState
from fieldapp.journal.record import Record

SEEDS = st.integers(0, 10**9)
FAR = date(2040, 1, 1).toordinal()


def closed_days(state: HiveState) -> portion.Interval:
    """Return a hive's closed days as an interval of whole days."""
    rows = portion.empty()
    for row in state.closed:
        rows |= portion.closedopen(row.first, FAR if row.last is None else row.last + 1)
    return rows


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
    assert {hive: operation.state(hive) for hive in whole} == whole


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


@given(SEEDS, st.integers(0, 10**6), st.integers(1, 40))
@settings(max_examples=60, deadline=None)
def test_a_correction_equals_having_entered_it_right(seed: int, pick: int, days: int) -> None:
    """A record logged on a wrong day and corrected is as if logged on the right one."""
    records = random_history(seed, corrections=False)
    dated = [r for r in records if r.hive is not None and r.kind != "hive"]
    right = dated[pick % len(dated)]
    day = date.fromisoformat(right.day) - timedelta(days=days)
    wrong = right._replace(happened=day.isoformat() + right.happened[10:])
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


@given(SEEDS, st.integers(0, 400))
@settings(max_examples=60, deadline=None)
def test_adding_a_cause_never_opens_a_day(seed: int, offset: int) -> None:
    """One more treatment of another kind leaves every closed day closed.

    Of another kind, because a further application of the same course may complete it, and so
    end the days that are closed to d + 2·most while it is below its number.
    """
    records = random_history(seed)
    season = Season()
    season._number = 0x900000
    terms = season.terms("GB/9/1/other/pad", supers="off", period=7)
    day = date(2026, 1, 1) + timedelta(days=offset)
    season.apply(terms, day.isoformat())
    more = fold_all([*records, *season.records[4:]])
    for hive, state in fold_all(records).items():
        assert closed_days(state) in closed_days(more[hive])


@given(SEEDS)
@settings(max_examples=60, deadline=None)
def test_closed_days_agree_with_portion(seed: int) -> None:
    """Joining the causes is the union of their intervals."""
    for state in fold_all(random_history(seed)).values():
        union = portion.empty()
        for cause in state.causes:
            end = FAR if cause.last is None else cause.last + 1
            if end > cause.first:
                union |= portion.closedopen(cause.first, end)
        assert closed_days(state) == union
        assert len(union) == len(state.closed)


@given(st.lists(st.tuples(st.integers(0, 60), st.none() | st.integers(0, 30)), max_size=12))
def test_joining_agrees_with_portion_on_any_causes(spans: list[tuple[int, int | None]]) -> None:
    """Overlapping and touching intervals become one; none is lost."""
    causes = [_cause(first, None if days is None else first + days) for first, days in spans]
    union = portion.empty()
    for cause in causes:
        union |= portion.closedopen(cause.first, FAR if cause.last is None else cause.last + 1)
    rows = joined(causes)
    assert [(r.first, r.last) for r in rows] == [
        (atom.lower, None if atom.upper == FAR else atom.upper - 1)
        for atom in union
        if not atom.empty
    ]
    assert sorted(place for row in rows for place in row.causes) == list(range(len(causes)))


def _cause(first: int, last: int | None) -> Cause:
    key = (first, 0, "", "")
    return Cause("", "", "", "", "", first, last, "", last, key, key, True, True, last, "")


@given(SEEDS, st.integers(0, 500))
@settings(max_examples=60, deadline=None)
def test_never_clear_while_a_needed_fact_is_missing(seed: int, offset: int) -> None:
    """After an application without known period or terms, or with pieces in, nothing is open."""
    day = date(2026, 1, 1) + timedelta(days=offset)
    for state in fold_all(random_history(seed)).values():
        answer = honey(state, day)
        for cause in state.causes:
            if cause.last is None and cause.first <= day.toordinal():
                assert answer.state != "open"
                assert answer.honey_from is None


@given(SEEDS, st.integers(0, 500))
@settings(max_examples=30, deadline=None)
def test_items_never_lack_a_word_or_a_reason(seed: int, offset: int) -> None:
    """Every item names its task, and why."""
    day = date(2026, 1, 1) + timedelta(days=offset)
    for state in fold_all(random_history(seed)).values():
        for item in hive_agenda(state, day):
            assert item.what.text
            assert item.reasons


@given(SEEDS)
@settings(max_examples=60, deadline=None)
def test_all_days_move_by_one_when_all_inputs_do(seed: int) -> None:
    """Windows and periods given in days, away from the ends of years."""
    records = random_history(seed, in_days_only=True)
    moved = [_moved(record) for record in records]
    before, after = fold_all(records), fold_all(moved)
    for hive, state in before.items():
        assert [(r.first, r.last) for r in after[hive].closed] == [
            (r.first + 1, None if r.last is None else r.last + 1) for r in state.closed
        ]
        assert [(c.first, c.last, c.k, c.ended) for c in after[hive].courses] == [
            (c.first + 1, c.last + 1, c.k, c.ended) for c in state.courses
        ]


def _moved(record: Record) -> Record:
    day = date.fromisoformat(record.day) + timedelta(days=1)
    return record._replace(happened=day.isoformat() + record.happened[10:])


@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 60))
def test_months_agree_with_dateutil(day: date, months: int) -> None:
    """Calendar months, clamped to the last day."""
    expected = day + relativedelta(months=months)
    assert date.fromordinal(add_months(day.toordinal(), months)) == expected


@pytest.mark.long
def test_incremental_equals_from_scratch_at_length() -> None:
    """Three thousand histories, record by record in any order."""
    for seed in range(3000):
        test_incremental_equals_from_scratch.hypothesis.inner_test(seed, seed + 1)
