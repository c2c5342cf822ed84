"""Distances between positions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.husbandry.distance import EARTH_M, metres

LAT = st.floats(-90, 90)
LON = st.floats(-180, 180)


def test_a_degree_of_the_meridian_is_111_km():
    """The check value: a 360th of the circumference of a sphere of the mean radius (IUGG)."""
    assert metres(54, -2, 55, -2) == pytest.approx(2 * 3.141592653589793 * EARTH_M / 360)


def test_across_the_date_line_is_near():
    """Half a degree each side of 180 degrees is one degree, not 359."""
    assert metres(0, 179.5, 0, -179.5) == pytest.approx(metres(0, 0, 0, 1))


@given(LAT, LON, LAT, LON)
def test_there_and_back_are_equal_and_never_over_half_the_earth(lat, lon, other_lat, other_lon):
    """A distance has no direction, and the far side is the farthest."""
    there = metres(lat, lon, other_lat, other_lon)
    assert there == pytest.approx(metres(other_lat, other_lon, lat, lon))
    assert 0 <= there <= 3.1416 * EARTH_M
