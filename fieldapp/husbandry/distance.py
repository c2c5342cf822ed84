"""How far apart two positions are."""

from __future__ import annotations

import math

EARTH_M = 6_371_008.8  # mean radius in metres, IUGG


def metres(lat: float, lon: float, other_lat: float, other_lon: float) -> float:
    """Return the great-circle distance in metres between two positions in degrees."""
    phi, other_phi = math.radians(lat), math.radians(other_lat)
    half_phi = math.sin((other_phi - phi) / 2) ** 2
    half_lambda = math.sin(math.radians(other_lon - lon) / 2) ** 2
    inside = half_phi + math.cos(phi) * math.cos(other_phi) * half_lambda
    return 2 * EARTH_M * math.asin(min(1.0, math.sqrt(inside)))
