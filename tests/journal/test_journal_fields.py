"""What a version takes, as a text: any change of a table of kinds is another text."""

from __future__ import annotations

import pytest

from fieldapp.journal.fields import (
    choice,
    day,
    many,
    may,
    need,
    number,
    outline,
    ref,
    shape,
    table,
    text,
    whole,
    yes_no,
)


def step(**more):
    return shape({"do": need(choice("add", "stir"), "what"), **more})


SAME = shape({"steps": may(many(step(), 1, 9), "steps"), "by": need(ref, "who")})


def test_the_same_fields_are_the_same_text():
    """Made twice, in another order: one text, so that nothing is judged anew for nothing."""
    again = shape({"by": need(ref, "who"), "steps": may(many(step(), 1, 9), "other words")})
    assert outline(again) == outline(SAME)


@pytest.mark.parametrize(
    "steps",
    [
        may(many(step(to=may(number(0, 1), "to")), 1, 9), "a field more, deep inside"),
        may(many(shape({"do": need(choice("add", "heat"), "what")}), 1, 9), "another word"),
        may(many(step(), 1, 10), "a larger bound"),
        need(many(step(), 1, 9), "needed now"),
    ],
    ids=lambda field: field.means,
)
def test_any_change_is_another_text(steps):
    """Records kept as not understood are then judged anew."""
    assert outline(shape({"steps": steps, "by": need(ref, "who")})) != outline(SAME)


def test_every_check_has_a_text_of_its_own():
    """No two checks that take different values share a text."""
    checks = [text(1), text(2), number(0, 1), whole(0, 1), yes_no, day, ref, table(text(1), day)]
    assert len({outline(check) for check in checks}) == len(checks)
