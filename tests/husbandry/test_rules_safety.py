"""What keeps honey safe in any history: no cause opens a day, and nothing unknown is clear."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

import portion
from hypothesis import given, settings
from hypothesis import strategies as st
from rules_random import HIVES, random_history
from rules_season import Season, name

from fieldapp.husbandry.causes import joined
from fieldapp.husbandry.honey import honey
from fieldapp.husbandry.operation import fold_all
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


def union(causes: Iterable[Cause]) -> portion.Interval:
    """Return the days that causes close."""
    days = portion.empty()
    for cause in causes:
        end = FAR if cause.last is None else cause.last + 1
        if end > cause.first:
            days |= portion.closedopen(cause.first, end)
    return days


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


@given(SEEDS, st.integers(0, 10**6), st.integers(0, 400))
@settings(max_examples=60, deadline=None)
def test_one_more_of_the_same_opens_no_day_after_an_application(
    seed: int, pick: int, offset: int
) -> None:
    """What each application closes by itself stays closed, whatever is given besides.

    Not so the days of a course, which one more may complete, nor days that combs took along.
    """
    records = random_history(seed)
    given_ = [r for r in records if r.kind == "application" and r.corrects is None]
    doses = [r for r in given_ if _form(records, r) == "dose"]
    if not doses:
        return
    day = date(2026, 1, 1) + timedelta(days=offset)
    more = doses[pick % len(doses)]._replace(
        id=name(0x900000),
        stamp=f"{0x900000:016x}",
        happened=f"{day}T12:00:00+00:00[Europe/London]",
        hive=HIVES[pick % 3],
    )
    after = fold_all([*records, more])
    for hive, state in fold_all(records).items():
        own = (cause for cause in state.causes if not cause.of_course and not cause.inherited)
        assert union(own) in closed_days(after[hive])


@given(SEEDS)
@settings(max_examples=60, deadline=None)
def test_closed_days_agree_with_portion(seed: int) -> None:
    """Joining the causes is the union of their intervals."""
    for state in fold_all(random_history(seed)).values():
        days = union(state.causes)
        assert closed_days(state) == days
        assert len(days) == len(state.closed)


@given(st.lists(st.tuples(st.integers(0, 60), st.none() | st.integers(0, 30)), max_size=12))
def test_joining_agrees_with_portion_on_any_causes(spans: list[tuple[int, int | None]]) -> None:
    """Overlapping and touching intervals become one; none is lost."""
    causes = [_cause(first, None if days is None else first + days) for first, days in spans]
    rows = joined(causes)
    assert [(r.first, r.last) for r in rows] == [
        (atom.lower, None if atom.upper == FAR else atom.upper - 1)
        for atom in union(causes)
        if not atom.empty
    ]
    assert sorted(place for row in rows for place in row.causes) == list(range(len(causes)))


def _cause(first: int, last: int | None) -> Cause:
    key = (first, 0, "", "")
    return Cause("", "", "", "", "", first, last, "", last, key, key, True, True, last, "")


def published(records: list[Record]) -> set[str]:
    """Return the terms whose period somebody published who may, read off the records alone."""
    named = {
        record.body["treatment"]
        for record in records
        if record.kind == "period" and record.body["given_by"]["who"] != "keeper"
    }
    return {
        record.id
        for record in records
        if record.kind == "terms"
        and (
            record.body["treatment"] in named
            or record.body["values"].get("period", {}).get("standing") == "read"
        )
    }


@given(SEEDS, st.integers(0, 800))
@settings(max_examples=120, deadline=None)
def test_never_clear_while_no_period_is_known(seed: int, after: int) -> None:
    """From an application whose period is missing, told or remembered, its hive is not open."""
    records = random_history(seed, corrections=False, weak=True)
    known, states = published(records), fold_all(records)
    for record in records:
        if record.kind == "application" and record.body["terms"] not in known:
            for days in (0, 1, after):
                day = date.fromisoformat(record.day) + timedelta(days=days)
                answer = honey(states[record.hive or ""], day)
                assert (answer.state, answer.honey_from) == ("not known", None)


@given(SEEDS, st.integers(0, 800))
@settings(max_examples=120, deadline=None)
def test_never_clear_while_a_piece_is_not_known_to_be_out(seed: int, after: int) -> None:
    """Pieces of which no record says that they came out, where supers have to be off."""
    records = random_history(seed, corrections=False)
    left = [r for r in records if r.kind not in ("pieces", "split", "unite", "transfer")]
    allowed = {
        record.id
        for record in left
        if record.kind == "terms"
        and record.body["values"].get("supers", {}).get("value") == "allowed"
    }
    states = fold_all(left)
    for record in left:
        in_it = record.kind == "application" and record.body.get("pieces", 1)
        if in_it and _form(records, record) == "pieces" and record.body["terms"] not in allowed:
            day = date.fromisoformat(record.day) + timedelta(days=after)
            answer = honey(states[record.hive or ""], day)
            assert answer.state != "open"
            assert answer.honey_from is None


def _form(records: list[Record], application: Record) -> str:
    return next(r.body["form"] for r in records if r.id == application.body["terms"])


@given(SEEDS, st.integers(0, 800))
@settings(max_examples=60, deadline=None)
def test_never_clear_while_the_terms_have_not_arrived(seed: int, after: int) -> None:
    """An application came over the air before the terms that it names."""
    records = random_history(seed, corrections=False)
    without = [r for r in records if r.kind not in ("terms", "period", "plan")]
    states = fold_all(without)
    for record in without:
        if record.kind == "application":
            day = date.fromisoformat(record.day) + timedelta(days=after)
            assert honey(states[record.hive or ""], day).state != "open"
