"""Finds the three corner marks of a QR code: dark and light in the ratio 1:1:3:1:1 both ways."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from math import hypot
from typing import NamedTuple

from fieldapp.wire.qr.raster import Raster

_RUNS = re.compile(rb"\x01+|\x00+")
_RATIO = (1, 1, 3, 1, 1)
#: Of its own width that a run may be off: photos are blurred.
_OFF = 0.6
#: Marks of which threes are tried, those met on most rows first.
_MOST = 12
#: More marks than that are no marks but the grain of a photo.
_NOISE = 150


class Mark(NamedTuple):
    """A corner mark: its middle, and the width of a module, in pixels."""

    x: float
    y: float
    module: float


class Corners(NamedTuple):
    """The marks of one code: upper left, upper right and lower left as it is read."""

    corner: Mark
    right: Mark
    below: Mark


def corners(raster: Raster) -> Iterator[Corners]:
    """Yield threes of marks that may be those of one code, the likeliest first."""
    found = _marks(raster)
    threes = []
    for three in itertools.combinations(found, 3):
        told = _told(three)
        if told is not None:
            threes.append(told)
    threes.sort(key=lambda pair: pair[0])
    for _, each in threes:
        yield each


def _marks(raster: Raster) -> list[Mark]:
    level, upright = _Lines(raster), _Lines(raster.turned())
    clusters: list[list[Mark]] = []
    for y in range(0, raster.height, 2):
        for x, _ in level.centres(y):
            down = upright.near(int(x), y)
            across = None if down is None else level.near(int(down[0]), x)
            if down is None or across is None:
                continue
            mark = Mark(across[0], down[0], (across[1] + down[1]) / 2)
            for cluster in clusters:
                if hypot(cluster[0].x - mark.x, cluster[0].y - mark.y) < 2 * mark.module:
                    cluster.append(mark)
                    break
            else:
                clusters.append([mark])
        if len(clusters) > _NOISE:
            return []
    clusters.sort(key=len, reverse=True)
    return [_mean(cluster) for cluster in clusters[:_MOST]]


def _mean(cluster: Sequence[Mark]) -> Mark:
    sums = [sum(values) / len(cluster) for values in zip(*cluster, strict=True)]
    return Mark(*sums)


class _Lines:
    """The rows of a raster, each looked through once for what may be the middle of a mark."""

    def __init__(self, raster: Raster) -> None:
        self._raster = raster
        self._known: dict[int, list[tuple[float, float]]] = {}

    def centres(self, row: int) -> list[tuple[float, float]]:
        """Return the middles of marks along a row, each with the width of a module."""
        if row not in self._known:
            self._known[row] = list(self._looked(row))
        return self._known[row]

    def near(self, row: int, place: float) -> tuple[float, float] | None:
        """Return the middle and module of the mark that a row has there, None where none."""
        if 0 <= row < self._raster.height:
            for middle, module in self.centres(row):
                if abs(middle - place) <= 1.5 * module:
                    return middle, module
        return None

    def _looked(self, row: int) -> Iterator[tuple[float, float]]:
        width = self._raster.width
        line = self._raster.data[row * width : (row + 1) * width]
        spans = [match.span() for match in _RUNS.finditer(line)]
        first = 1 if line[:1] == b"\x00" else 0
        for at in range(first, len(spans) - 4, 2):
            (begin, _), (left, right), (_, end) = spans[at], spans[at + 2], spans[at + 4]
            module = (end - begin) / 7
            runs = (stop - start for start, stop in spans[at : at + 5])
            if module >= 1 and all(
                abs(run - ratio * module) <= max(1.0, _OFF * module * (1 if ratio == 1 else 1.6))
                for run, ratio in zip(runs, _RATIO, strict=True)
            ):
                yield (left + right) / 2, module


#: How far two sides may differ in length, and how far the corner may be from a right angle.
_SKEW = 0.5


def _told(three: Sequence[Mark]) -> tuple[float, Corners] | None:
    """Return three marks by their places with how little they look like a code, None where not."""
    sizes = [mark.module for mark in three]
    if max(sizes) > 2 * min(sizes):
        return None
    pairs = sorted(
        (hypot(one.x - other.x, one.y - other.y), one, other)
        for one, other in itertools.combinations(three, 2)
    )
    (short, *_), (middle, *_), (long, one, other) = pairs
    if short < 10 * min(sizes):  # of the smallest code the marks are 14 modules apart
        return None
    uneven = 1 - short / middle
    oblique = abs(long**2 - short**2 - middle**2) / (2 * short * middle)
    if uneven > _SKEW or oblique > _SKEW:
        return None
    corner = next(mark for mark in three if mark is not one and mark is not other)
    # Clockwise, as the axes of a photo go: right, then down.
    turn = (one.x - corner.x) * (other.y - corner.y) - (one.y - corner.y) * (other.x - corner.x)
    right, below = (one, other) if turn > 0 else (other, one)
    return uneven + oblique, Corners(corner, right, below)
