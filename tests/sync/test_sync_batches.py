"""Batches as bytes: what goes in comes out, and what is not whole is refused."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.journal.batches import Batch
from fieldapp.wire.batches import BadBatches, decode, encode

digests = st.binary(min_size=32, max_size=32)
batches = st.builds(
    Batch,
    st.binary(min_size=16, max_size=16),
    st.integers(1, 2**53),
    digests,
    digests,
    st.lists(st.binary(max_size=60), min_size=1, max_size=5).map(tuple),
)


@given(st.lists(batches, max_size=4))
def test_batches_come_out_as_they_went_in(several: list[Batch]):
    """Whatever the records' bytes are, line feeds and none at all included."""
    assert decode(encode(several)) == several


@given(st.lists(batches, min_size=1, max_size=3), st.data())
def test_a_body_cut_inside_a_batch_is_refused(several: list[Batch], draw: st.DataObject):
    """Cut between two batches it is a shorter row of whole ones; anywhere else it is none."""
    whole = encode(several)
    ends = {len(encode(several[:count])) for count in range(len(several))}
    cut = draw.draw(st.integers(0, len(whole) - 1))
    if cut in ends:
        assert decode(whole[:cut]) == several[: len(decode(whole[:cut]))]
    else:
        with pytest.raises(BadBatches):
            decode(whole[:cut])


@given(st.binary(max_size=300))
def test_no_bytes_break_the_reader(data: bytes):
    """Any bytes are batches or `BadBatches`, and what is read is what was there."""
    with contextlib.suppress(BadBatches):
        assert encode(decode(data)) == data


def test_a_count_that_lies_costs_nothing():
    """Four thousand million records announced, none there: refused without making room."""
    head = bytes(16) + (1).to_bytes(8, "big") + bytes(64) + b"\xff\xff\xff\xff"
    with pytest.raises(BadBatches):
        decode(head + bytes(100))
