"""Corrections, sameness, the same application twice, annexes: pure functions of a set."""

from __future__ import annotations

import random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from journal_making import HIVE, KEEPER, OTHER_HIVE, TERMS, TREATMENT, WHEN

from fieldapp.journal.annexes import annexes, position
from fieldapp.journal.corrections import sort_out, version, versions
from fieldapp.journal.ids import uuid7
from fieldapp.journal.record import Record
from fieldapp.journal.same_as import groups
from fieldapp.journal.twice import aliases, twice


def an_id(n: int) -> str:
    return uuid7(n, bytes(10))


def made(n: int, kind: str = "look", **fields: Any) -> Record:
    """Return a record whose id and stamp rise with `n`."""
    body = fields.pop("body", {"words": str(n)})
    fields = {"happened": WHEN, "hive": HIVE, "stamp": f"{n:016x}", "v": 1, **fields}
    return Record(
        an_id(n), kind, writer="ab" * 16, seq=max(n, 1), keeper=KEEPER, body=body, **fields
    )


def fix(n: int, root: Record, *heads: Record, **fields: Any) -> Record:
    names = tuple(head.id for head in heads)
    return made(n, fields.pop("kind", root.kind), corrects=root.id, heads=names, **fields)


ROOT = made(1)


def test_without_corrections_the_root_holds() -> None:
    """Nothing to ask, not void."""
    found = versions([ROOT])[ROOT.id]
    assert (found.holds, found.void, found.asks) == (ROOT, False, False)
    assert found.head_ids == (ROOT.id,)


def test_a_correction_replaces_the_root_entirely() -> None:
    """Happened, hive, keeper and body are the correction's; id and stamp stay the root's."""
    later = "2026-07-05T09:00:00+01:00[Europe/London]"
    holds = versions([ROOT, fix(2, ROOT, hive=OTHER_HIVE, happened=later)])[ROOT.id].holds
    assert (holds.id, holds.stamp, holds.seq) == (ROOT.id, ROOT.stamp, ROOT.seq)
    assert (holds.hive, holds.day, holds.body) == (OTHER_HIVE, "2026-07-05", {"words": "2"})


def test_a_head_that_was_named_is_replaced() -> None:
    """One after the other: one head, nothing to ask."""
    first = fix(2, ROOT)
    second = fix(3, ROOT, first)
    found = versions([second, ROOT, first])[ROOT.id]
    assert found.head_ids == (second.id,)
    assert found.corrections == (first, second)


def test_side_by_side_the_latest_holds_and_the_keeper_is_asked() -> None:
    """All heads stay visible; the answer names them all."""
    one, two = fix(2, ROOT), fix(3, ROOT)
    found = versions([ROOT, two, one])[ROOT.id]
    assert found.asks
    assert found.holds.body == {"words": "3"}
    assert [open_.body["words"] for open_ in found.open] == ["2", "3"]
    answered = versions([ROOT, one, two, fix(4, ROOT, one, two)])[ROOT.id]
    assert not answered.asks


def test_a_head_counts_as_replaced_before_it_arrives() -> None:
    """The name alone replaces it."""
    unseen, answer = fix(2, ROOT), fix(3, ROOT, fix(2, ROOT))
    assert versions([ROOT, answer])[ROOT.id].head_ids == (answer.id,)
    assert versions([ROOT, answer, unseen])[ROOT.id].head_ids == (answer.id,)


def test_a_name_that_is_not_lower_is_ignored() -> None:
    """A correction cannot replace one that was made after it, nor itself."""
    later = fix(3, ROOT)
    earlier = fix(2, ROOT, later)
    assert versions([ROOT, earlier, later])[ROOT.id].head_ids == (earlier.id, later.id)
    itself = fix(4, ROOT)._replace(heads=(an_id(4),))
    assert versions([ROOT, itself])[ROOT.id].head_ids == (itself.id,)


def test_void_and_back() -> None:
    """A void is a correction like others and can be corrected."""
    void = fix(2, ROOT, void=True)
    assert versions([ROOT, void])[ROOT.id].void
    assert not versions([ROOT, void, fix(3, ROOT, void)])[ROOT.id].void


def test_a_correction_without_its_root_waits() -> None:
    """It takes part in nothing until the root arrives."""
    waits = fix(2, ROOT)
    assert sort_out([waits]).waiting == (waits,)
    assert sort_out([waits, ROOT]).waiting == ()


def test_another_kind_or_a_correction_of_a_correction_is_not_understood() -> None:
    """They correct nothing and are in sight."""
    first = fix(2, ROOT)
    other_kind, of_a_fix = fix(3, ROOT, kind="queen"), fix(4, first)
    found = sort_out([ROOT, first, other_kind, of_a_fix])
    assert found.not_understood == (other_kind, of_a_fix)
    assert found.versions[ROOT.id].corrections == (first,)


@st.composite
def histories(draw: st.DrawFn) -> list[Record]:
    """Return a root and corrections that name any of each other."""
    count = draw(st.integers(1, 6))
    stamps = draw(st.lists(st.integers(2, 9), min_size=count, max_size=count))
    numbers = range(2, 2 + count)
    return [ROOT] + [
        fix(n, ROOT)._replace(
            stamp=f"{stamp:016x}",
            heads=tuple(an_id(name) for name in draw(st.sets(st.sampled_from(numbers)))),
            void=draw(st.booleans()),
        )
        for n, stamp in zip(numbers, stamps, strict=True)
    ]


@given(histories(), st.integers())
def test_order_and_repetition_of_arrival_do_not_matter(records: list[Record], seed: int) -> None:
    """The version is a function of the set; the latest correction is always open and holds."""
    mixed = records + records[: len(records) // 2]
    random.Random(seed).shuffle(mixed)
    found = versions(mixed)
    assert found == versions(records)
    latest = max(records[1:], key=lambda record: (record.stamp, record.id))
    assert found[ROOT.id].holds.body == latest.body
    assert found[ROOT.id] == version(ROOT, records[:0:-1])


def same(n: int, *ids: str, what: str = "hive", **fields: Any) -> Record:
    return made(n, "same_as", body={"what": what, "ids": list(ids)}, **fields)


def test_sameness_is_transitive_and_the_smallest_id_stands() -> None:
    """Over several records, whatever their order."""
    a, b, c, d = map(an_id, (10, 11, 12, 13))
    found = groups([same(1, d, c), same(2, b, a), same(3, c, b)])
    assert {found.of("hive", name) for name in (a, b, c, d)} == {a}
    assert found.group("hive", c) == (a, b, c, d)


def test_sameness_is_of_one_thing_and_can_be_voided() -> None:
    """Hives that are one make no colonies one; a void joins nothing."""
    a, b = an_id(10), an_id(11)
    assert groups([same(1, a, b)]).of("colony", b) == b
    assert groups([same(1, a, b, void=True)]).of("hive", b) == b
    assert groups([]).group("hive", b) == (b,)


@given(st.lists(st.sets(st.integers(1, 12), min_size=2, max_size=4), max_size=8), st.integers())
def test_groups_do_not_depend_on_order(joins: list[set[int]], seed: int) -> None:
    """Against the plain closure of the relation."""
    records = [same(n, *map(an_id, ids)) for n, ids in enumerate(joins)]
    random.Random(seed).shuffle(records)
    found = groups(records)
    for number in range(1, 13):
        closure = {number}
        for _ in joins:
            closure |= {n for ids in joins if ids & closure for n in ids}
        assert found.of("hive", an_id(number)) == an_id(min(closure))


def app(n: int, **fields: Any) -> Record:
    body = {"treatment": fields.pop("treatment", TREATMENT), "terms": TERMS}
    return made(n, "application", body=body, **fields)


def answer(n: int, *parts: list[Record], **fields: Any) -> Record:
    named = [[record.id for record in part] for part in parts]
    return made(n, "answer_twice", body={"parts": named}, **fields)


A, B, C = app(5), app(6), app(7)


def test_one_application_is_no_question() -> None:
    """Nor are two on other days, of other treatments, on other hives, or voided."""
    other_day = app(6, happened="2026-07-05T00:10:00+01:00[Europe/London]")
    others = [other_day, app(7, treatment="own/x"), app(8, hive=OTHER_HIVE), app(9, void=True)]
    assert twice([A, *others], [], groups([])) == []


def test_until_answered_they_are_one() -> None:
    """The question names every id; the earliest holds."""
    (question,) = twice([C, A, B], [], groups([]))
    assert question.ids == (A.id, B.id, C.id)
    assert question.parts == (question.ids,)
    assert question.answer is None
    assert aliases([question]) == {B.id: A.id, C.id: A.id}


def test_hives_that_are_one_have_one_key() -> None:
    """After sameness the hive is the one that stands."""
    moved = app(6, hive=OTHER_HIVE)
    (question,) = twice([A, moved], [], groups([same(1, HIVE, OTHER_HIVE)]))
    assert question.key.hive == HIVE


def test_an_answer_parts_them() -> None:
    """The earliest of a part holds; of several answers the latest."""
    old, new = answer(10, [A, B, C]), answer(11, [C, A], [B])
    (question,) = twice([A, B, C], [new, old], groups([]))
    assert question.parts == ((A.id, C.id), (B.id,))
    assert question.answer == new.id
    assert aliases([question]) == {C.id: A.id}


@pytest.mark.parametrize(
    "given_",
    [
        answer(10, [A], [B]),
        answer(10, [A, B], [C], void=True),
        answer(10, [A, B], [A, C]),
    ],
    ids=["a further arrival", "voided", "an id in two parts"],
)
def test_an_answer_that_does_not_part_all_leaves_the_question(given_: Record) -> None:
    """A further arrival reopens it."""
    (question,) = twice([A, B, C], [given_], groups([]))
    assert question.answer is None


def test_an_answer_may_name_more() -> None:
    """Ids that were voided or moved away since change nothing."""
    (question,) = twice([A, B], [answer(10, [C], [B, A])], groups([]))
    assert question.parts == ((A.id, B.id),)
    assert question.answer is not None


def at(n: int, after_s: float, accuracy: float | None = None, **fields: Any) -> Record:
    body = {"lat": 1, "lon": 2, "after_s": after_s}
    if accuracy is not None:
        body["accuracy"] = accuracy
    return made(n, "position", body=body, adds_to=ROOT.id, **fields)


@pytest.mark.parametrize(
    ("positions", "holds"),
    [
        ([at(2, 60, 8), at(3, 5, 30)], 2),
        ([at(2, -60, 8), at(3, 30, 8)], 3),
        ([at(2, 30, 8), at(3, -30, 8)], 2),
        ([at(2, 0), at(3, 110, 900)], 3),
        ([at(2, 121, 1), at(3, -121, 1)], None),
        ([at(2, 120, 5)], 2),
        ([], None),
    ],
)
def test_the_position_that_holds(positions: list[Record], holds: int | None) -> None:
    """Within 120 s: accuracy, then time, then id; none stated comes last."""
    found = position(reversed(positions))
    assert (found and found.id) == (holds and an_id(holds))


def test_an_annex_adds_to_its_root_until_it_is_voided() -> None:
    """Annexes come by root, in the order in which they were made."""
    words = made(4, "note", body={"words": "wet comb"}, adds_to=ROOT.id)
    void = at(3, 1, void=True)
    assert annexes([words, ROOT, void, at(2, 1)]) == {ROOT.id: (at(2, 1), words)}
