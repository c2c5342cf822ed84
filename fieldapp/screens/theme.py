"""Colours, type sizes and target sizes: every figure of the look in one place.

Lengths are in dp (1/160 inch, so 126 dp are 20 mm), type sizes in sp, which follow the
system's font size. Each colour stands at 7:1 or more on its ground.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

Role = Literal["text", "done", "due", "late", "closed", "quiet", "unknown"]
Size = Literal["figure", "title", "body", "small"]
Colour = tuple[float, float, float, float]

#: Type sizes in sp. There are no others.
TYPE: dict[Size, int] = {"figure": 44, "title": 28, "body": 20, "small": 16}

HAND = 126  # 20 mm: what is touched at the hive, both ways
FIELD = 284  # a little over 45 mm: the round's main field
DESK = 48  # what is touched elsewhere
APART = 20  # a little over 3 mm: round undo and the end of a round
SPACE = 8
MARGIN = 8


def colour(hexes: str) -> Colour:
    """Return ``#RRGGBB`` as red, green, blue and alpha from 0 to 1."""
    red, green, blue = (int(hexes[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue, 1.0


class Theme(NamedTuple):
    """One set of colours. `ink` holds one colour a role; a sign or a word goes with each."""

    name: str
    ground: Colour
    ink: dict[Role, Colour]


def _theme(name: str, ground: str, **ink: str) -> Theme:
    colours: dict[Role, Colour] = {
        "text": colour(ink["text"]),
        "done": colour(ink["done"]),
        "due": colour(ink["due"]),
        "late": colour(ink["late"]),
        "closed": colour(ink["closed"]),
        "quiet": colour(ink["quiet"]),
        "unknown": colour(ink["text"]),
    }
    return Theme(name, colour(ground), colours)


SUN = _theme(
    "sun",
    "#FBFAF5",
    text="#12211C",
    done="#14523A",
    due="#123F73",
    late="#8A2A0C",
    closed="#5A2366",
    quiet="#3D4A45",
)
DARK = _theme(
    "dark",
    "#0E1714",
    text="#F3F1E8",
    done="#8FE0B8",
    due="#9CCBFF",
    late="#FFB59A",
    closed="#E3B5F0",
    quiet="#B7C4BE",
)
THEMES = {theme.name: theme for theme in (SUN, DARK)}
