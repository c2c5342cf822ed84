"""Reads a photo with a QR code in it: finds it, sees through the slant, puts right, says it."""

from __future__ import annotations

import io
from collections.abc import Iterator
from itertools import islice
from math import hypot
from operator import ne

from PIL import Image, ImageOps

from fieldapp.wire.qr.blocks import Unreadable, data
from fieldapp.wire.qr.corners import Corners, corners
from fieldapp.wire.qr.plane import Plane, flat, planes
from fieldapp.wire.qr.raster import Raster, raster
from fieldapp.wire.qr.symbol import (
    Modules,
    codewords,
    format_of,
    timing_faults,
    version_of,
)
from fieldapp.wire.qr.text import text

#: Pixels of the longer side that a photo is looked at with, one after the other.
_SIDES = (800, 1400, 500)
#: Threes of marks that are tried in one photo, and planes in which they may lie.
_THREES, _PLANES = 12, 40
#: Sizes that are tried around the one that the marks tell, in versions.
_OFF = 2
#: Changes between dark and light that a dotted line may have more or fewer than it should.
_CHANGES = 4
#: Of the modules of the dotted lines that may be misread.
_FAULTS = 0.25
_EDGE = 6.5


def read(photo: bytes) -> str | None:
    """Return the text of a QR code in a photo (JPEG, PNG or WebP), None where none is read.

    Dark on light and light on dark are read, turned any way, seen at a slant, up to version 40.
    """
    try:
        with Image.open(io.BytesIO(photo), formats=("JPEG", "PNG", "WEBP")) as opened:
            opened.draft("L", (max(_SIDES), max(_SIDES)))
            grey = ImageOps.exif_transpose(opened).convert("L")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return None
    for side in _SIDES:
        for image in (grey, ImageOps.invert(grey)):
            said = _said(raster(image, side))
            if said is not None:
                return said
    return None


def _said(seen: Raster) -> str | None:
    codes = (code for three in islice(corners(seen), _THREES) for code in _codes(seen, three))
    for modules in islice(codes, _PLANES):
        said = None if modules is None else _decoded(modules)
        if said is not None:
            return said
    return None


def _decoded(modules: Modules) -> str | None:
    told = format_of(modules)
    if told is None:
        return None
    version = version_of(len(modules))
    try:
        return text(data(codewords(modules, told.mask), version, told.level), version)
    except Unreadable:
        return None


def _codes(seen: Raster, three: Corners) -> Iterator[Modules | None]:
    """Yield the codes that three marks may be of, as their modules were seen; None where none."""
    for version in _versions(three):
        size = 17 + 4 * version
        try:
            if not _dotted(seen, flat(three, size), size):
                continue
            for plane in planes(seen, three, size):
                modules = _sampled(seen, plane, size)
                faults = timing_faults(modules) / (2 * (size - 16))
                yield modules if faults <= _FAULTS else None
        except ArithmeticError:
            continue


def _dotted(seen: Raster, plane: Plane, size: int) -> bool:
    """Whether one of the lines between the marks has about as many dots as this size asks for."""
    steps = 4 * size
    ways = [_EDGE + (size - 2 * _EDGE) * at / steps for at in range(steps + 1)]
    across = [seen.dark(*plane.pixel(at, _EDGE)) for at in ways]
    down = [seen.dark(*plane.pixel(_EDGE, at)) for at in ways]
    changes = [sum(map(ne, line, line[1:])) for line in (across, down)]
    return any(abs(each - (size - 14)) <= _CHANGES for each in changes)


def _versions(three: Corners) -> list[int]:
    """Return the versions that the distances of the marks tell, the likeliest first."""
    corner, right, below = three
    wide = hypot(right.x - corner.x, right.y - corner.y) / (corner.module + right.module) * 2
    high = hypot(below.x - corner.x, below.y - corner.y) / (corner.module + below.module) * 2
    # Along a diagonal a module is wider: then the marks are further apart than they tell.
    guess = ((wide + high) / 2 + 7 - 17) / 4
    near = range(round(guess) - _OFF, round(guess) + _OFF + 1)
    turned = range(round(guess * 1.4) - _OFF, round(guess * 1.4) + _OFF + 1)
    tried = sorted(near, key=lambda version: abs(version - guess))
    tried += [version for version in turned if version not in tried]
    return [version for version in tried if 1 <= version <= 40]


def _sampled(seen: Raster, plane: Plane, size: int) -> Modules:
    return [
        [seen.dark(*plane.pixel(column + 0.5, row + 0.5)) for column in range(size)]
        for row in range(size)
    ]
