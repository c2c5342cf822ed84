"""A photo as it is kept: small enough to travel, upright, and without what a camera adds.

What a camera writes beside the pixels (where, when, with what) is dropped: records say where and
when by themselves, and a proof is shown to others.
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import Final

from fieldapp.device.camera import MOST as MOST_TAKEN
from fieldapp.rounds.errors import RoundsError
from fieldapp.words import say

#: The media type of every photo that is kept.
MEDIA: Final = "image/jpeg"
#: Pixels of the longer side: an A4 sheet that fills the photo has 170 dots per inch and is read.
LONGER_SIDE: Final = 2000
QUALITY: Final = 80


class NoPhoto(RoundsError, ValueError):
    """A file that is no photo, or one in a form that cannot be read here."""

    def __init__(self) -> None:
        super().__init__(
            say(
                "This file is no photo that can be read here. Nothing was saved, nothing lost. "
                "JPEG, PNG and WebP can be read."
            )
        )


def as_kept(raw: bytes) -> bytes:
    """Return the photo in `raw` as a JPEG of at most 2000 pixels a side, upright, bare.

    Raises `NoPhoto` where it cannot be read.
    """
    from PIL import Image, ImageOps  # noqa: PLC0415  (slow to load, and few photos are taken)

    try:
        with Image.open(io.BytesIO(raw), formats=("JPEG", "PNG", "WEBP")) as opened:
            # Of a large JPEG only an eighth, a quarter or half of the pixels need be decoded.
            opened.draft("RGB", (LONGER_SIDE, LONGER_SIDE))
            upright = ImageOps.exif_transpose(opened)
            upright.thumbnail((LONGER_SIDE, LONGER_SIDE))
            bare = Image.new("RGB", upright.size, "white")
            solid = upright.convert("RGBA")
            bare.paste(solid, mask=solid.getchannel("A"))
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise NoPhoto from error
    made = io.BytesIO()
    bare.save(made, "JPEG", quality=QUALITY, optimize=True)
    return made.getvalue()


def read_picture(path: Path) -> bytes:
    """Return a picture's bytes.

    Raises `NoPhoto` for what is too large to be one, `OSError` where it cannot be read.
    """
    with path.open("rb") as file:
        raw = file.read(MOST_TAKEN + 1)
    if len(raw) > MOST_TAKEN:
        raise NoPhoto
    return raw
