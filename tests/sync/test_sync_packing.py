"""Compression on the wire: whole or not at all, and never more than is allowed."""

from __future__ import annotations

import contextlib
import gzip
import tracemalloc

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.wire.packing import BadPacking, pack, unpack


@given(st.binary(max_size=5000))
def test_what_is_packed_comes_out(data: bytes):
    """Any bytes come back as they were; every gzip reader can read them."""
    assert unpack(pack(data), 5000) == data
    assert gzip.decompress(pack(data)) == data


@given(st.binary(min_size=20, max_size=500), st.data())
def test_a_body_cut_anywhere_is_refused(data: bytes, draw: st.DataObject):
    """No prefix of a packed body is taken for a whole one."""
    packed = pack(data)
    with pytest.raises(BadPacking):
        unpack(packed[: draw.draw(st.integers(0, len(packed) - 1))], 5000)


@given(st.binary(min_size=20, max_size=500), st.data())
def test_a_flipped_bit_changes_nothing_unseen(data: bytes, draw: st.DataObject):
    """A damaged body is refused; where a bit of the gzip header did not matter, all is there."""
    packed = bytearray(pack(data))
    packed[draw.draw(st.integers(0, len(packed) - 1))] ^= 1 << draw.draw(st.integers(0, 7))
    with contextlib.suppress(BadPacking):
        assert unpack(bytes(packed), 5000) == data


def test_something_behind_the_body_is_refused():
    """Two bodies in one are not one body."""
    with pytest.raises(BadPacking, match="behind"):
        unpack(pack(b"one") + pack(b"two"), 5000)


def test_a_bomb_is_refused_without_being_unpacked():
    """A gigabyte of zeros in a megabyte costs no more memory than the bound."""
    bomb = pack(bytes(1 << 28))
    tracemalloc.start()
    with pytest.raises(BadPacking, match="more than"):
        unpack(bomb, 1 << 20)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 8 << 20
