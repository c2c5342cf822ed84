"""The plane of a code in a photo: from modules of the code to pixels, seen at a slant."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldapp.wire.qr.corners import Corners
from fieldapp.wire.qr.raster import Raster

Point = tuple[float, float]
#: Modules from the edge of the code to the middle of a corner mark, and of the fourth mark.
_CORNER, _FOURTH = 3.5, 6.5
#: Modules around where the fourth mark would be without any slant that are searched for it.
_REACH = 7
_STEPS = 3
#: Of the 25 modules of the fourth mark that must be as they should.
_LEAST = 22


class Plane:
    """Takes modules (column, row, in parts) to pixels of the photo, by four points of both.

    All of it raises `ArithmeticError` where three of the points lie on a line, or nearly.
    """

    def __init__(self, modules: Sequence[Point], pixels: Sequence[Point]) -> None:
        rows = []
        for (u, v), (x, y) in zip(modules, pixels, strict=True):
            rows.append([u, v, 1, 0, 0, 0, -u * x, -v * x, x])
            rows.append([0, 0, 0, u, v, 1, -u * y, -v * y, y])
        self._by = _solved(rows)

    def pixel(self, column: float, row: float) -> Point:
        """Return where a point of the code is in the photo."""
        a, b, c, d, e, f, g, h = self._by
        depth = g * column + h * row + 1
        return (a * column + b * row + c) / depth, (d * column + e * row + f) / depth


def flat(corners: Corners, size: int) -> Plane:
    """Return the plane of a code of `size` modules a side that is seen without any slant."""
    (x, y), (right_x, right_y), (below_x, below_y) = ((mark.x, mark.y) for mark in corners)
    return _plane(corners, size, size - _CORNER, (right_x + below_x - x, right_y + below_y - y))


def planes(raster: Raster, corners: Corners, size: int) -> Iterator[Plane]:
    """Yield the planes in which a code of `size` modules a side may lie, the likeliest first."""
    level = flat(corners, size)
    if size > 21:
        for pixel in _fourth_marks(raster, level, size - _FOURTH):
            yield _plane(corners, size, size - _FOURTH, pixel)
    yield level


def _plane(corners: Corners, size: int, fourth: float, pixel: Point) -> Plane:
    far = size - _CORNER
    modules = [(_CORNER, _CORNER), (far, _CORNER), (_CORNER, far), (fourth, fourth)]
    return Plane(modules, [*((mark.x, mark.y) for mark in corners), pixel])


def _fourth_marks(raster: Raster, level: Plane, at: float) -> list[Point]:
    """Return where the fourth mark may be: the middles of the best places, the best first."""
    reach = range(-_REACH * _STEPS, _REACH * _STEPS + 1)
    found: list[tuple[int, float, Point]] = []
    for down in reach:
        for across in reach:
            column, row = at + across / _STEPS, at + down / _STEPS
            hits = sum(
                raster.dark(*level.pixel(column + i, row + j)) == (max(abs(i), abs(j)) != 1)
                for j in range(-2, 3)
                for i in range(-2, 3)
            )
            if hits >= _LEAST:
                found.append((-hits, across**2 + down**2, level.pixel(column, row)))
    if not found:
        return []
    found.sort()
    best = [pixel for hits, _, pixel in found if hits == found[0][0]]
    module = abs(level.pixel(1, 0)[0] - level.pixel(0, 0)[0]) + abs(
        level.pixel(1, 0)[1] - level.pixel(0, 0)[1]
    )
    kept: list[list[Point]] = []
    for pixel in best:
        for group in kept:
            if abs(group[0][0] - pixel[0]) + abs(group[0][1] - pixel[1]) < 2 * module:
                group.append(pixel)
                break
        else:
            kept.append([pixel])
    return [
        (sum(x for x, _ in group) / len(group), sum(y for _, y in group) / len(group))
        for group in kept[:4]
    ]


def _solved(rows: list[list[float]]) -> list[float]:
    """Return the solution of linear equations, each with its right side last."""
    count = len(rows)
    for at in range(count):
        pivot = max(range(at, count), key=lambda row: abs(rows[row][at]))
        rows[at], rows[pivot] = rows[pivot], rows[at]
        head = rows[at][at]
        rows[at] = [value / head for value in rows[at]]
        for row in range(count):
            if row != at and rows[row][at]:
                factor = rows[row][at]
                rows[row] = [
                    value - factor * own for value, own in zip(rows[row], rows[at], strict=True)
                ]
    return [row[-1] for row in rows]
